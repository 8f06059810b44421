//! Which modules of the program there are and which of them import which, read from their sources.

mod graph;
mod source;

pub use graph::{Graph, Module};
