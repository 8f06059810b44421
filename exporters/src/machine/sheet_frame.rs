//! How a sheet lies on the bed of the machine, and where the parts on it come to lie in a file.

use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::sheets::{ArrangedSheet, Placed, lies_turned};
use jigless_model::side::Face;

/// A sheet on the bed, seen on one of its faces. The file's zero is its lower left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct SheetFrame {
    /// Size of the sheet, its grain upward, in millimetres.
    size: (f64, f64),
    /// Whether it lies turned by a quarter, so that its grain runs along x.
    pub(super) turned: bool,
    /// Which face is up. The back is seen after turning the sheet over about the upright line through its middle.
    pub(super) face: Face,
}

/// Where what is drawn of one part comes to lie.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placing<'a> {
    frame: SheetFrame,
    placed: &'a Placed,
    /// Width of the part, in millimetres.
    width: f64,
}

impl SheetFrame {
    /// A sheet as it lies on the bed, upright where it can.
    pub(super) fn new(sheet: &ArrangedSheet, bed: Option<[f64; 2]>, face: Face) -> Self {
        let size = (sheet.width, sheet.height);
        let turned =
            bed.is_some_and(|[width, height]| lies_turned(size, (width, height)).unwrap_or(false));
        Self { size, turned, face }
    }

    /// The sheet in the file.
    pub(super) fn bounds(self) -> Bounds {
        let (width, height) = self.size;
        if self.turned {
            Bounds::of_size(height, width)
        } else {
            Bounds::of_size(width, height)
        }
    }

    /// A point of the sheet, as its parts are arranged on it, in the file.
    pub(super) fn point(self, of_sheet: Point) -> Point {
        let lying = if self.turned {
            Point::new(self.size.1 - of_sheet.y, of_sheet.x)
        } else {
            of_sheet
        };
        match self.face {
            Face::Front => lying,
            Face::Back => Point::new(self.bounds().max.x - lying.x, lying.y),
        }
    }

    /// A path of the sheet in the file.
    pub(super) fn path(self, of_sheet: &Path) -> Path {
        let lying = if self.turned {
            of_sheet.turned(1).moved(Point::new(self.size.1, 0.0))
        } else {
            of_sheet.clone()
        };
        match self.face {
            Face::Front => lying,
            Face::Back => lying.mirrored(self.bounds().max.x),
        }
    }

    /// Where what is drawn of a part of a width, as seen on the face that is up, comes to lie.
    pub(super) fn placing(self, placed: &Placed, width: f64) -> Placing<'_> {
        Placing {
            frame: self,
            placed,
            width,
        }
    }
}

impl Placing<'_> {
    /// A point of the face that is up, in the file.
    pub(super) fn point(&self, seen: Point) -> Point {
        let of_part = match self.frame.face {
            Face::Front => seen,
            Face::Back => Point::new(self.width - seen.x, seen.y),
        };
        self.frame.point(self.placed.point(of_part))
    }

    /// A path of the face that is up, in the file.
    pub(super) fn path(&self, seen: &Path) -> Path {
        let of_part = match self.frame.face {
            Face::Front => seen.clone(),
            Face::Back => seen.mirrored(self.width),
        };
        self.frame.path(&self.placed.path(&of_part))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn frame(turned: bool, face: Face) -> SheetFrame {
        SheetFrame {
            size: (400.0, 1000.0),
            turned,
            face,
        }
    }

    #[test]
    fn the_back_is_the_mirror_image_of_the_whole_sheet() {
        let placed = Placed {
            workpiece: 0,
            copy: 1,
            quarters: 1,
            at: Point::new(300.0, 20.0),
        };
        for turned in [false, true] {
            let (front, back) = (frame(turned, Face::Front), frame(turned, Face::Back));
            let width = front.bounds().max.x;
            // A point 30, 40 of a part 200 wide is seen at 170, 40 on its back.
            let a = front.placing(&placed, 200.0).point(Point::new(30.0, 40.0));
            let b = back.placing(&placed, 200.0).point(Point::new(170.0, 40.0));
            assert!(
                a.distance(Point::new(width - b.x, b.y)) < 1e-9,
                "{a:?} {b:?}"
            );
            let path = jigless_model::geom::rectangle(Bounds::of_size(30.0, 40.0));
            let corner = front.placing(&placed, 200.0).path(&path).vertices[2].point;
            assert!(a.distance(corner) < 1e-9);
        }
    }

    #[test]
    fn a_turned_sheet_stays_where_no_coordinate_is_negative() {
        let frame = frame(true, Face::Front);
        assert_eq!(frame.bounds().max, Point::new(1000.0, 400.0));
        assert_eq!(frame.point(Point::new(0.0, 1000.0)), Point::default());
        assert_eq!(
            frame.point(Point::new(400.0, 0.0)),
            Point::new(1000.0, 400.0)
        );
    }
}
