//! Pictures of the whole: closed, open, moved apart, cut, from the front, the side and above, where each part is, and how
//! it grows step by step.

mod balloons;
mod exporter;
mod ink;
mod options;
mod page;
mod scene;
mod stages;
mod step_pictures;
#[cfg(test)]
mod tests;
mod versions;

pub use exporter::{PngViews, SvgViews};
pub use options::{
    LookOptions, PngViewsOptions, Projection, Section, SvgStepsOptions, SvgViewsOptions,
};
pub use step_pictures::SvgSteps;
pub use versions::versions;

pub(crate) use balloons::balloons;
pub(crate) use ink::{Look, inked};
pub(crate) use page::Page;
pub(crate) use scene::{Marking, Scene, Whole};
pub(crate) use stages::stages;
