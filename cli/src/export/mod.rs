//! Making the files of a plan: what is to be made and why, what each format says of it, and writing it.

mod opening;
mod plan;
mod run;
mod verdict;
mod work;

pub use opening::job;
pub use plan::export_plan;
pub use run::{Run, formats_of};
pub use verdict::{Verdict, named};
