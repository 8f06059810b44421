//! Pictures of the whole: closed, open, moved apart, and from the front, the side and above.

mod balloons;
mod exporter;
mod ink;
mod options;
mod scene;
#[cfg(test)]
mod tests;

pub use exporter::SvgViews;
pub use options::{Projection, SvgViewsOptions};

pub(crate) use balloons::balloons;
pub(crate) use ink::{Look, inked};
pub(crate) use scene::{Marking, Scene, Whole};
