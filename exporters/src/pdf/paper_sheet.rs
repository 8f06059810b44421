//! A page before it is painted.

use jigless_model::geom::{Bounds, Point};

use super::page_format::PageFormat;
use crate::drawing::Item;

/// A page with everything that is on it, in millimetres from its lower left corner.
#[derive(Debug, Clone)]
pub(crate) struct PaperSheet {
    /// Its paper.
    pub(crate) format: PageFormat,
    /// What is on it.
    pub(crate) items: Vec<Item>,
    /// Where parts lie on it: one for each template.
    pub(crate) viewports: Vec<Viewport>,
}

/// Where a part lies on a page. It is written into the page for readers that measure.
#[derive(Debug, Clone)]
pub(crate) struct Viewport {
    /// Part, face and name of the template: `door-left back 2`, `side front B2`.
    pub(crate) name: String,
    /// The box on the page that belongs to the template, with all that is to be read beside it, in millimetres.
    pub(crate) area: Bounds,
    /// Where the part's 0,0 lies, in millimetres from the page's lower left corner; often outside the page.
    pub(crate) origin: Point,
}
