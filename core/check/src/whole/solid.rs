//! A piece in its place, with what is cut and milled away.

use jigless_model::geom::{Path, Point, Region};
use jigless_model::operation::{Bevel, MillArea, Work};
use jigless_model::side::{Edge, Face};
use jigless_model::whole::{Body, Box3, Triple};
use jigless_model::workpiece::Workpiece;

/// A piece in its place. Holes are left out: they take no part of another panel.
#[derive(Debug)]
pub struct Solid<'a> {
    /// The part with its work.
    pub workpiece: &'a Workpiece,
    /// Its box in the whole.
    pub bounds: Box3,
    body: Body,
    region: Region,
}

impl<'a> Solid<'a> {
    /// A piece of a part in one of its places.
    pub fn new(workpiece: &'a Workpiece, body: Body) -> Self {
        Self {
            workpiece,
            bounds: body.bounds(),
            body,
            region: workpiece.region(),
        }
    }

    /// A body's coordinates are those of the part that the plan describes; the work of a mirror image is its own.
    fn own(&self, point: Triple) -> (Point, f64) {
        let (at, depth) = self.body.to_part(point);
        if self.workpiece.part.is_mirrored() {
            (Point::new(self.workpiece.part.width - at.x, at.y), depth)
        } else {
            (at, depth)
        }
    }

    fn whole(&self, at: Point, depth: f64) -> Triple {
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
        inward < from_full * bevel.angle.abs().tan()
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

/// A box of the whole in which two things both have wood, if there is one: the first that is found.
pub(super) fn shared(
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
pub(super) fn joined(one: [Vec<f64>; 3], other: &[Vec<f64>; 3]) -> [Vec<f64>; 3] {
    let mut all = one;
    for (own, more) in all.iter_mut().zip(other) {
        own.extend(more);
    }
    all
}
