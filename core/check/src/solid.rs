//! A piece in its place, with what is cut and milled away.

use jigless_model::geom::{Path, Point, Region, Segment};
use jigless_model::operation::{Bevel, MillArea, Work};
use jigless_model::side::{Edge, Face};
use jigless_model::whole::{Body, Box3, Direction, Placement, Triple};
use jigless_model::workpiece::Workpiece;

/// A piece in its place. Holes are left out: they take no part of another panel.
#[derive(Debug)]
pub struct Solid<'a> {
    /// The part with its work.
    pub workpiece: &'a Workpiece,
    /// Its box in the whole.
    pub bounds: Box3,
    /// Number of its part among those of the plan that can be made, from 0.
    pub part: usize,
    /// Number of the piece among those of its part, from 0.
    pub number: usize,
    body: Body,
    region: Region,
}

impl<'a> Solid<'a> {
    /// A piece of a part in one of its places.
    pub fn new(workpiece: &'a Workpiece, body: Body, part: usize, number: usize) -> Self {
        Self {
            workpiece,
            bounds: body.bounds(),
            part,
            number,
            body,
            region: workpiece.region(),
        }
    }

    /// A piece that lies by itself, face up with its lower left corner at 0,0,0.
    pub fn alone(workpiece: &'a Workpiece) -> Self {
        let place = Placement {
            at: [0.0; 3],
            width: Direction::Right,
            height: Direction::Up,
        };
        let part = &workpiece.part;
        let size = [part.width, part.height, part.thickness()];
        Self::new(workpiece, Body::new(place, size, part.is_mirrored()), 0, 0)
    }

    /// Where it lies and which way its axes run.
    pub fn body(&self) -> &Body {
        &self.body
    }

    /// A point of the whole as the work of the part has it: on the front face, and how deep below that. A body's coordinates are those of the part that the plan describes; the work of a mirror image is its own.
    pub fn own(&self, point: Triple) -> (Point, f64) {
        let (at, depth) = self.body.to_part(point);
        if self.workpiece.part.is_mirrored() {
            (Point::new(self.workpiece.part.width - at.x, at.y), depth)
        } else {
            (at, depth)
        }
    }

    /// A point of the whole from a place on the front face, as the work has it, and a depth below that.
    pub fn whole(&self, at: Point, depth: f64) -> Triple {
        let x = if self.workpiece.part.is_mirrored() {
            self.workpiece.part.width - at.x
        } else {
            at.x
        };
        self.body.to_whole(x, at.y, depth)
    }

    fn areas(&self) -> impl Iterator<Item = &MillArea> {
        self.workpiece
            .operations
            .iter()
            .filter_map(|operation| match &operation.work {
                Work::MillArea(area) => Some(area),
                _ => None,
            })
    }

    /// Whether there is wood at a point of the whole.
    pub fn contains(&self, point: Triple) -> bool {
        let part = &self.workpiece.part;
        let (at, depth) = self.own(point);
        if depth <= 0.0 || depth >= part.thickness() || !self.region.contains(at) {
            return false;
        }
        let milled = self.areas().any(|area| {
            let from_face = match area.face {
                Face::Front => depth,
                Face::Back => part.thickness() - depth,
            };
            from_face < area.depth && area.outline.contains(at)
        });
        let bevelled = self
            .workpiece
            .operations
            .iter()
            .any(|operation| match &operation.work {
                Work::Bevel(bevel) => self.is_bevelled(*bevel, at, depth),
                _ => false,
            });
        !milled && !bevelled
    }

    fn is_bevelled(&self, bevel: Bevel, at: Point, depth: f64) -> bool {
        self.off_bevel(bevel, at, depth) < 0.0
    }

    /// How far a point lies within the plane of a bevel, measured square to the edge; negative where it is cut off.
    fn off_bevel(&self, bevel: Bevel, at: Point, depth: f64) -> f64 {
        let part = &self.workpiece.part;
        let inward = match bevel.edge {
            Edge::Left => at.x,
            Edge::Right => part.width - at.x,
            Edge::Bottom => at.y,
            Edge::Top => part.height - at.y,
        };
        // Above 0 the front face keeps its size, so the cut grows with the depth below it.
        let from_full = if bevel.angle > 0.0 {
            depth
        } else {
            part.thickness() - depth
        };
        inward - from_full * bevel.angle.abs().tan()
    }

    /// Where a straight line is in the wood: from and to, as lengths from its beginning.
    pub fn along(&self, from: Triple, to: Triple) -> Vec<(f64, f64)> {
        let length = distance(from, to);
        let (a, a_depth) = self.own(from);
        let (b, b_depth) = self.own(to);
        let point = |share: f64| [0, 1, 2].map(|i| from[i] + (to[i] - from[i]) * share);
        let mut shares = vec![0.0, 1.0];
        let fall = b_depth - a_depth;
        let mut plane = |depth: f64| {
            if fall.abs() > 1e-9 {
                shares.push((depth - a_depth) / fall);
            }
        };
        let thickness = self.workpiece.part.thickness();
        plane(0.0);
        plane(thickness);
        for area in self.areas() {
            plane(match area.face {
                Face::Front => area.depth,
                Face::Back => thickness - area.depth,
            });
        }
        if a.distance(b) > 1e-9 {
            let paths = std::iter::once(&self.region.outer)
                .chain(&self.region.inner)
                .chain(self.areas().map(|area| &area.outline));
            for segment in paths.flat_map(Path::segments) {
                shares.extend(crossings(a, b, &segment));
            }
        }
        for operation in &self.workpiece.operations {
            if let Work::Bevel(bevel) = &operation.work {
                let (first, last) = (
                    self.off_bevel(*bevel, a, a_depth),
                    self.off_bevel(*bevel, b, b_depth),
                );
                if (first - last).abs() > 1e-9 {
                    shares.push(first / (first - last));
                }
            }
        }
        shares.retain(|share| (0.0..=1.0).contains(share));
        shares.sort_by(f64::total_cmp);
        let mut stretches: Vec<(f64, f64)> = Vec::new();
        for pair in shares.windows(2) {
            if (pair[1] - pair[0]) * length < 1e-7
                || !self.contains(point(f64::midpoint(pair[0], pair[1])))
            {
                continue;
            }
            let (start, end) = (pair[0] * length, pair[1] * length);
            match stretches.last_mut() {
                Some(last) if start - last.1 < 1e-6 => last.1 = end,
                _ => stretches.push((start, end)),
            }
        }
        stretches
    }

    /// The places along each axis of the whole where wood may begin or end.
    pub fn breaks(&self) -> [Vec<f64>; 3] {
        let part = &self.workpiece.part;
        let mut points: Vec<Triple> = Vec::new();
        let of_path = |path: &Path, depth: f64, points: &mut Vec<Triple>| {
            points.extend(path.vertices.iter().map(|v| self.whole(v.point, depth)));
        };
        of_path(&self.region.outer, 0.0, &mut points);
        of_path(&self.region.outer, part.thickness(), &mut points);
        for opening in &self.region.inner {
            of_path(opening, 0.0, &mut points);
        }
        for area in self.areas() {
            let depth = match area.face {
                Face::Front => area.depth,
                Face::Back => part.thickness() - area.depth,
            };
            of_path(&area.outline, depth, &mut points);
        }
        [0, 1, 2].map(|axis| points.iter().map(|point| point[axis]).collect())
    }

    /// Volume of the wood in cubic millimetres, without holes.
    pub fn volume(&self) -> f64 {
        let part = &self.workpiece.part;
        self.region.area() * part.thickness()
            - self
                .areas()
                .map(|area| area.outline.area() * area.depth)
                .sum::<f64>()
    }
}

/// How far two points are apart.
pub fn distance(a: Triple, b: Triple) -> f64 {
    (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt()
}

/// Where a line from `a` to `b` meets a segment, as shares of the line. An arc gives where its whole circle is met.
fn crossings(a: Point, b: Point, segment: &Segment) -> Vec<f64> {
    let run = b - a;
    match segment {
        Segment::Line(from, to) => {
            let (own, off) = (*to - *from, *from - a);
            let across = run.cross(own);
            if across.abs() < 1e-12 {
                return Vec::new();
            }
            let along = off.cross(run) / across;
            if (-1e-9..=1.0 + 1e-9).contains(&along) {
                vec![off.cross(own) / across]
            } else {
                Vec::new()
            }
        }
        Segment::Arc(arc) => {
            let off = a - arc.centre();
            let (square, half) = (run.dot(run), run.dot(off));
            let rest = off.dot(off) - arc.radius().powi(2);
            let under = half * half - square * rest;
            if under < 0.0 {
                return Vec::new();
            }
            let root = under.sqrt();
            vec![(-half - root) / square, (-half + root) / square]
        }
    }
}

/// A box of the whole in which two things both have wood, if there is one: the first that is found.
pub fn shared(
    within: Box3,
    breaks: &[Vec<f64>; 3],
    both: impl Fn(Triple) -> bool,
    tolerance: f64,
) -> Option<Box3> {
    let cuts = [0, 1, 2].map(|axis| {
        let mut cuts: Vec<f64> = breaks[axis]
            .iter()
            .copied()
            .filter(|at| *at > within.min[axis] && *at < within.max[axis])
            .chain([within.min[axis], within.max[axis]])
            .collect();
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|a, b| (*a - *b).abs() < tolerance);
        cuts
    });
    for x in cuts[0].windows(2) {
        for y in cuts[1].windows(2) {
            for z in cuts[2].windows(2) {
                let cell = Box3::new([x[0], y[0], z[0]], [x[1], y[1], z[1]]);
                if SAMPLES.iter().any(|share| both(inside(cell, *share))) {
                    return Some(cell);
                }
            }
        }
    }
    None
}

/// Where each cell is looked at, away from its diagonals so that two mitres share no point.
const SAMPLES: [Triple; 4] = [
    [0.31, 0.47, 0.59],
    [0.67, 0.41, 0.23],
    [0.43, 0.71, 0.37],
    [0.57, 0.29, 0.73],
];

fn inside(cell: Box3, share: Triple) -> Triple {
    [0, 1, 2].map(|axis| cell.min[axis] + cell.size(axis) * share[axis])
}

/// The breaks of two pieces together.
pub fn joined(one: [Vec<f64>; 3], other: &[Vec<f64>; 3]) -> [Vec<f64>; 3] {
    let mut all = one;
    for (own, more) in all.iter_mut().zip(other) {
        own.extend(more);
    }
    all
}
