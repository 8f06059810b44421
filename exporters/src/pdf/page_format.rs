//! The size of a page and what of it can be printed.

use jigless_model::geom::{Bounds, Point};

/// No ink comes nearer to the edge of the paper than this, in millimetres: home printers leave at least part of it
/// blank.
pub(crate) const MARGIN: f64 = 12.0;
/// Middle lines of pens stay this far inside the margin, in millimetres, so that their ink does too.
const PEN_ROOM: f64 = 0.45;

/// A sheet of paper, and what has to be drawn longer or shorter so that a printer's stretching comes out even.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PageFormat {
    /// Width and height in millimetres.
    pub(crate) size: (f64, f64),
    /// What is drawn for each millimetre meant, across and upward on this page.
    pub(crate) scale: (f64, f64),
    /// What stays blank at both sides and at both ends beyond the usual border, in millimetres.
    pub(crate) blank: (f64, f64),
}

impl PageFormat {
    /// The part of the page that may carry ink, in millimetres meant. What is drawn longer about the middle of the page
    /// must still keep off its border.
    pub(crate) fn printable(self) -> Bounds {
        let middle = Point::new(self.size.0 / 2.0, self.size.1 / 2.0);
        let border = MARGIN + PEN_ROOM;
        let room = middle - Point::new(border + self.blank.0, border + self.blank.1);
        let half = Point::new(
            room.x / self.scale.0.max(1.0),
            room.y / self.scale.1.max(1.0),
        );
        Bounds::new(middle - half, middle + half)
    }

    /// Where on the page a point is drawn, in millimetres of the file.
    pub(crate) fn drawn(self, point: Point) -> Point {
        let along = |at: f64, size: f64, scale: f64| size / 2.0 + (at - size / 2.0) * scale;
        Point::new(
            along(point.x, self.size.0, self.scale.0),
            along(point.y, self.size.1, self.scale.1),
        )
    }
}
