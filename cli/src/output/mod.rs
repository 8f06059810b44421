//! The output folder of one plan: what may be written there, and writing it so that a kill at any moment loses nothing.

mod before;
mod changes;
mod compare;
mod fresh;
mod made;
mod prune;
mod refusal;
mod removal;
#[cfg(test)]
mod stopped;
#[cfg(test)]
mod tests;
mod touched;

pub use before::Before;
pub use changes::Changes;
pub use fresh::why_made;
pub use made::{About, MadeFiles, Output};
pub use prune::orphans;
