//! Screws, hinges, runners and the like: what is bought and not made, counted from the features that take it.

mod fitting;
mod list;

pub use fitting::{Fitting, FittingKind};
pub use list::{HardwareLine, count};
