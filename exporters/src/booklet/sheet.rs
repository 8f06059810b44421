//! The page: its margins and its sizes of type.

use jigless_model::geom::{Bounds, Point};

use crate::pdf::PageFormat;

/// Size of running text, in millimetres: 9.5 pt.
pub(super) const BODY: f64 = 3.35;
/// Size of small text, in millimetres: 8 pt.
pub(super) const SMALL: f64 = 2.83;
/// Size of the least text, in millimetres: 7 pt.
pub(super) const LEAST: f64 = 2.48;
/// Size of a heading within a section, in millimetres: 12 pt.
pub(super) const HEADING: f64 = 4.23;
/// Size of the title of a section, in millimetres: 18 pt.
pub(super) const SECTION: f64 = 6.35;
/// Size of the title of the whole, in millimetres: 30 pt.
pub(super) const TITLE: f64 = 10.58;
/// From one line to the next, in sizes.
pub(super) const LEADING: f64 = 1.38;

/// Width of the text, in millimetres.
pub(super) const WIDTH: f64 = crate::document::TEXT_WIDTH;
/// Width of lines that are read one after the other; what is beside them is left to write on.
pub(super) const READING: f64 = 140.0;
/// Above and below the text, in millimetres.
const MARGINS: (f64, f64) = (20.0, 24.0);

/// A page of some size.
pub(super) fn format(size: (f64, f64)) -> PageFormat {
    PageFormat {
        size,
        scale: (1.0, 1.0),
        blank: (0.0, 0.0),
    }
}

/// The box of the text on a page of some size.
pub(super) fn text_area(size: (f64, f64)) -> Bounds {
    let side = (size.0 - WIDTH) / 2.0;
    Bounds::new(
        Point::new(side, MARGINS.1),
        Point::new(size.0 - side, size.1 - MARGINS.0),
    )
}
