//! Text to a tree in which every value knows its place. It knows nothing of lengths or geometry.

mod include;
mod node;
mod parse;

pub use include::{IncludeReader, NoIncludes, check_include_path};
pub use node::{Entry, Node, Scalar, Value};
pub use parse::{MAX_FILE_BYTES, parse};
