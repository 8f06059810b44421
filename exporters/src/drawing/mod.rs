//! A drawing that knows no format: what is on the paper, in millimetres, y up, and what each stroke stands for.
//!
//! [`face`] turns one face of a part into strokes and into [requests for labels](label); [`label_layout`] finds room for
//! the labels on the paper at hand; [`clip`] cuts a drawing down to one page. Exporters that put ink on paper or paths in a
//! file only paint the [`Item`]s.

mod arrow;
pub(crate) mod book_face;
pub(crate) mod caption;
pub(crate) mod clip;
pub(crate) mod face;
pub(crate) mod face_work;
pub(crate) mod flap;
pub(crate) mod font;
mod helvetica;
mod item;
pub(crate) mod label;
pub(crate) mod label_layout;
pub(crate) mod mark;
pub(crate) mod measure;
mod occupied;
#[cfg(test)]
pub(crate) mod probe;
pub(crate) mod section;
pub(crate) mod style;
pub(crate) mod text;
pub(crate) mod vet;

pub use style::Tint;

pub(crate) use book_face::BookFace;
pub(crate) use font::Weight;
pub(crate) use item::{Ellipse, Item, ItemShape, Role};
pub(crate) use style::{Dash, Ink, Inks, Pen};
pub(crate) use text::{Anchor, TextLine, Turn};
