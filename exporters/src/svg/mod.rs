//! `svg-drilling`: each worked face of each part as a drawing at scale, one viewBox unit for a millimetre.

mod compose;
mod exporter;
mod hard;
mod options;
pub(crate) mod paint;
pub(crate) mod path_data;

pub use exporter::SvgDrilling;
pub use options::{SvgDrillingOptions, Variant};
