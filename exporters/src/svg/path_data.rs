//! Paths as SVG path data: M, L, A and Z with absolute coordinates, y downward.

use jigless_model::geom::{Path, Point, Segment};
use jigless_model::units::push_decimal;

/// Writes the commands of a path.
pub(crate) struct PathData<'a, P> {
    /// What is written so far.
    pub(crate) text: &'a mut String,
    /// Decimals of a number.
    pub(crate) decimals: usize,
    /// Where in the file a point of the drawing lies. It turns y over, and keeps lengths.
    pub(crate) place: P,
}

impl<P: Fn(Point) -> Point> PathData<'_, P> {
    /// A path. The Z of a closed one draws its last side where that is straight, unless all sides are asked for.
    pub(crate) fn path(&mut self, path: &Path, all_sides: bool) {
        let mut segments = path.segments().peekable();
        if let Some(first) = segments.peek() {
            self.command('M', first.from());
        }
        while let Some(segment) = segments.next() {
            match segment {
                Segment::Line(..) if path.closed && !all_sides && segments.peek().is_none() => {}
                Segment::Line(_, to) => self.command('L', to),
                Segment::Arc(arc) => {
                    let radius = arc.radius();
                    // Counter-clockwise with y upward is counter-clockwise in the file, which SVG calls sweep 0.
                    let flags = [arc.bulge.abs() > 1.0, arc.bulge < 0.0];
                    self.arc([radius, radius], 0.0, flags, segment.to());
                }
            }
        }
        if path.closed {
            self.text.push('Z');
        }
    }

    /// A command that goes to a point.
    pub(crate) fn command(&mut self, command: char, to: Point) {
        self.text.push(command);
        self.point(to);
    }

    /// An arc: two radii, the turn of the first in degrees, whether it is the long way round and clockwise in the file,
    /// and where it ends.
    pub(crate) fn arc(&mut self, radii: [f64; 2], turn: f64, flags: [bool; 2], to: Point) {
        self.text.push('A');
        for number in [radii[0], radii[1], turn] {
            push_decimal(self.text, number, self.decimals);
            self.text.push(' ');
        }
        for flag in flags {
            self.text.push_str(if flag { "1 " } else { "0 " });
        }
        self.point(to);
    }

    /// Two coordinates.
    pub(crate) fn point(&mut self, point: Point) {
        let place = (self.place)(point);
        push_decimal(self.text, place.x, self.decimals);
        self.text.push(' ');
        push_decimal(self.text, place.y, self.decimals);
    }
}
