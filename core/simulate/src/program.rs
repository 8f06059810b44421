//! A program as it was read: motions, and which lines they hang on.

use jigless_model::geom::{Bounds, Point};

use crate::fault::Fault;

/// An arc in the plane of the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Its centre.
    pub centre: Point,
    /// Whether it runs clockwise.
    pub clockwise: bool,
}

/// One motion of the tool's tip, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motion {
    /// The line that asks for it, from 1.
    pub line: usize,
    /// Whether it is a rapid, which must never touch wood.
    pub rapid: bool,
    /// Where it begins.
    pub from: Point,
    /// Height where it begins.
    pub from_z: f64,
    /// Where it ends.
    pub to: Point,
    /// Height where it ends.
    pub to_z: f64,
    /// The arc that it follows; `None` for a line.
    pub arc: Option<Arc>,
    /// Number of the tool, if one was called.
    pub tool: Option<u32>,
    /// The line that called it.
    pub tool_line: usize,
    /// Feed in millimetres a minute, if one is in force.
    pub feed: Option<f64>,
    /// Whether the spindle turns.
    pub spindle: bool,
}

impl Motion {
    /// Length of its way, in millimetres.
    pub fn length(&self) -> f64 {
        self.length_in_plane().hypot(self.to_z - self.from_z)
    }

    /// Length of its way as seen from above, in millimetres.
    pub(crate) fn length_in_plane(&self) -> f64 {
        match self.arc {
            None => self.from.distance(self.to),
            Some(arc) => self.from.distance(arc.centre) * self.sweep(arc).abs(),
        }
    }

    /// Turn of its arc in radians, positive counter-clockwise. An arc that ends where it begins is a full turn.
    pub(crate) fn sweep(&self, arc: Arc) -> f64 {
        let angle = |p: Point| (p - arc.centre).angle();
        let (a, b) = (angle(self.from), angle(self.to));
        let turn = if arc.clockwise { a - b } else { b - a };
        let turn = turn.rem_euclid(std::f64::consts::TAU);
        let full = self.from.distance(self.to) < 1e-9 || turn < 1e-12;
        let turn = if full { std::f64::consts::TAU } else { turn };
        if arc.clockwise { -turn } else { turn }
    }

    /// The point after a share of the way, from 0 to 1, in the plane.
    pub(crate) fn at(&self, share: f64) -> Point {
        match self.arc {
            None => self.from.toward(self.to, share),
            Some(arc) => {
                let start = (self.from - arc.centre).angle() + self.sweep(arc) * share;
                let radius = self.from.distance(arc.centre)
                    + (self.to.distance(arc.centre) - self.from.distance(arc.centre)) * share;
                arc.centre + Point::new(start.cos(), start.sin()) * radius
            }
        }
    }

    /// The box around its way, as seen from above.
    pub(crate) fn way(&self) -> Bounds {
        let mut way = Bounds::new(self.from, self.to);
        let Some(arc) = self.arc else { return way };
        let (start, sweep) = ((self.from - arc.centre).angle(), self.sweep(arc));
        for quarter in 0..4 {
            let angle = f64::from(quarter) * std::f64::consts::FRAC_PI_2;
            let turned = (angle - start) * sweep.signum();
            if turned.rem_euclid(std::f64::consts::TAU) <= sweep.abs() {
                let radius = self.from.distance(arc.centre);
                let point = arc.centre + Point::new(angle.cos(), angle.sin()) * radius;
                way = way.union(Bounds::new(point, point));
            }
        }
        way
    }

    /// Its lowest height.
    pub(crate) fn lowest(&self) -> f64 {
        self.from_z.min(self.to_z)
    }
}

/// A program as it was read.
#[derive(Debug, Clone, Default)]
pub struct Program {
    /// Its motions in their order.
    pub motions: Vec<Motion>,
    /// The line that set its unit, 0 where none did.
    pub unit_line: usize,
    /// What of it could not be read or must not be run.
    pub faults: Vec<Fault>,
}

impl Program {
    /// The lowest and highest x, y and z of all that is cut, in millimetres; `None` where nothing is.
    pub fn extents(&self) -> Option<([f64; 3], [f64; 3])> {
        let mut cuts = self
            .motions
            .iter()
            .filter(|motion| !motion.rapid)
            .peekable();
        cuts.peek()?;
        let (mut low, mut high) = ([f64::INFINITY; 3], [f64::NEG_INFINITY; 3]);
        for motion in cuts {
            let way = motion.way();
            let ends = [
                [way.min.x, way.min.y, motion.from_z.min(motion.to_z)],
                [way.max.x, way.max.y, motion.from_z.max(motion.to_z)],
            ];
            for axis in 0..3 {
                low[axis] = low[axis].min(ends[0][axis]);
                high[axis] = high[axis].max(ends[1][axis]);
            }
        }
        Some((low, high))
    }

    /// Length of all that is cut, in millimetres.
    pub fn cut_length(&self) -> f64 {
        let cuts = self.motions.iter().filter(|motion| !motion.rapid);
        cuts.map(Motion::length).sum()
    }
}
