//! Pictures of the whole: closed, open, moved apart, and from the front, the side and above.

mod balloons;
mod exporter;
mod ink;
mod options;
mod scene;

pub use exporter::SvgViews;
pub use options::{Projection, SvgViewsOptions};
