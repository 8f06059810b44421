//! What the work can do to people: one table of texts, and what of it the work on given parts calls for.

mod called_for;
mod table;

pub use called_for::{
    Medium, called_for, of_finish, of_fitting, of_material, sentences, short_lines,
};
pub use table::{Caution, DEFER, DEFER_SHORT};
