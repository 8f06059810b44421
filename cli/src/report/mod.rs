//! Findings and problems in words, for people.

mod count;
mod quote;
mod words;

pub use count::{counted, tally};
pub use words::{problem, words};
