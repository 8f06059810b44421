//! Features: what an author asks for on a part. One module each, with its keys, its own findings and its work; and
//! the list of them.
//!
//! Adding one means a module with a [`FeatureKind`] and a line in [`FEATURES`].

mod area;
mod bevel;
mod caster_plate;
mod common;
mod corner;
mod cutout;
mod edge_hole;
mod fixings;
mod groove;
mod hinge_cups;
mod hinge_plates;
mod hole;
mod hole_row;
mod kind;
mod mark;
mod notch;
mod outline;
mod pin_rows;
mod pocket_holes;
mod points;
mod rebate;
mod recess;
mod registry;
mod runner_holes;
mod shape;

pub use kind::FeatureKind;
pub use registry::{FEATURES, Registry};
