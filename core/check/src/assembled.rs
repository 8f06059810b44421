//! Every piece that has a place, in an index of what is near what.

use jigless_model::whole::{Box3, Triple};
use jigless_model::workpiece::Workpiece;
use rstar::{AABB, RTree, RTreeObject};

use crate::solid::{Solid, distance};

/// Every piece that has a place.
#[derive(Debug)]
pub struct Assembled<'a> {
    /// The pieces, in the order of the plan.
    pub solids: Vec<Solid<'a>>,
    /// The box around all of them, if there are any.
    pub bounds: Option<Box3>,
    tree: RTree<Boxed>,
}

/// The box of a piece in the index.
#[derive(Debug)]
struct Boxed {
    number: usize,
    bounds: Box3,
}

impl RTreeObject for Boxed {
    type Envelope = AABB<[f64; 3]>;

    fn envelope(&self) -> Self::Envelope {
        AABB::from_corners(self.bounds.min, self.bounds.max)
    }
}

/// Where a line is in the wood of one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Number of the piece.
    pub solid: usize,
    /// Length along the line where the wood begins.
    pub from: f64,
    /// Length along the line where it ends.
    pub to: f64,
}

impl<'a> Assembled<'a> {
    /// The pieces of some parts.
    pub fn new(workpieces: &'a [Workpiece]) -> Self {
        let solids = solids(workpieces);
        let boxes = solids.iter().enumerate().map(|(number, solid)| Boxed {
            number,
            bounds: solid.bounds,
        });
        Self {
            tree: RTree::bulk_load(boxes.collect()),
            bounds: solids.iter().map(|solid| solid.bounds).reduce(Box3::union),
            solids,
        }
    }

    /// Numbers of the pieces whose boxes meet a box, in the order of the plan.
    pub fn near(&self, bounds: Box3) -> Vec<usize> {
        let around = AABB::from_corners(bounds.min, bounds.max);
        let found = self.tree.locate_in_envelope_intersecting(around);
        let mut numbers: Vec<usize> = found.map(|boxed| boxed.number).collect();
        numbers.sort_unstable();
        numbers
    }

    /// Numbers of the pieces whose boxes come within a distance of that of another one, which is left out.
    pub fn neighbours(&self, solid: usize, within: f64) -> Vec<usize> {
        let mut near = self.near(grown(self.solids[solid].bounds, within));
        near.retain(|other| *other != solid);
        near
    }

    /// Where a line is in wood, from its beginning to its end.
    pub fn stretches(&self, from: Triple, to: Triple) -> Vec<Stretch> {
        let mut stretches: Vec<Stretch> = Vec::new();
        if distance(from, to) <= 0.0 {
            return stretches;
        }
        for solid in self.near(Box3::new(from, to)) {
            let inside = self.solids[solid].along(from, to);
            stretches.extend(
                inside
                    .into_iter()
                    .map(|(from, to)| Stretch { solid, from, to }),
            );
        }
        stretches.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        stretches
    }

    /// The first of the pieces that count which a straight driver runs into, from where it comes in to its other end, by
    /// more than a hair.
    pub fn in_the_way(
        &self,
        (from, to): (Triple, Triple),
        hair: f64,
        counts: impl Fn(usize) -> bool,
    ) -> Option<Stretch> {
        let mut stretches = self.stretches(from, to).into_iter();
        stretches.find(|stretch| stretch.to - stretch.from > hair && counts(stretch.solid))
    }
}

/// Every piece that has a place, in the order of the plan.
pub fn solids(workpieces: &[Workpiece]) -> Vec<Solid<'_>> {
    let mut solids = Vec::new();
    for (part, workpiece) in workpieces.iter().enumerate() {
        let bodies = workpiece.part.bodies().into_iter().enumerate();
        solids.extend(bodies.map(|(number, body)| Solid::new(workpiece, body, part, number)));
    }
    solids
}

/// A box with room around it.
pub fn grown(bounds: Box3, by: f64) -> Box3 {
    Box3 {
        min: bounds.min.map(|low| low - by),
        max: bounds.max.map(|high| high + by),
    }
}
