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
    /// Where a part lies on it, if one does.
    pub(crate) viewport: Option<Viewport>,
}

/// Where a part lies on a page. It is written into the page for readers that measure.
#[derive(Debug, Clone)]
pub(crate) struct Viewport {
    /// Face and name of the page: `front B2`.
    pub(crate) name: String,
    /// The box on the page in which the part is drawn, in millimetres.
    pub(crate) window: Bounds,
    /// Where the part's 0,0 lies, in millimetres from the page's lower left corner; often outside the page.
    pub(crate) origin: Point,
}
