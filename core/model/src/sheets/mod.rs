//! Parts on sheets and boards as plain data: what is asked of a layout, and what comes of it.
//!
//! | file | holds |
//! |---|---|
//! | `arrangement` | what exporters ask for and are handed: parts of a plan on sheets and boards |
//! | `problem` | what straight cuts must make: sizes of sheets, pieces, kerf, trims, limits |
//! | `cut_tree` | a sheet taken apart by straight cuts from edge to edge |
//! | `cut_list` | the same as a numbered list of cuts in the order of work |
//! | `boards` | the same for boards that are cut to length |

mod arrangement;
mod boards;
mod cut_list;
mod cut_tree;
mod micrometres;
mod problem;

pub use arrangement::*;
pub use boards::*;
pub use cut_list::*;
pub use cut_tree::*;
pub use micrometres::*;
pub use problem::*;
