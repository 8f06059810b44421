//! A part together with the work that is done to it.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::feature::Working;
use crate::geom::{LENGTH_TOLERANCE, Path, Point, Region};
use crate::hardware::Fitting;
use crate::operation::{ContourSide, Operation, Work};
use crate::plan::Part;
use crate::side::Face;

/// A part together with the work that is done to it, in the order of the plan, its contours last (the openings, then
/// the outline).
#[derive(Debug, Clone)]
pub struct Workpiece {
    /// The part.
    pub part: Arc<Part>,
    /// What is done to it.
    pub operations: Vec<Operation>,
    /// The arithmetic behind it, for features that show theirs.
    pub workings: Vec<Workings>,
    /// The hardware that its features take, for one piece.
    pub fittings: Vec<Fitting>,
    /// Sharp inside corners of contours and milled areas into which the corner of another part must go: those of notches,
    /// of openings that say so, and of grooves and rebates that receive a part. A round tool leaves them filled unless
    /// they are relieved or squared by hand.
    pub mating: Vec<Point>,
}

/// The arithmetic of one feature.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Workings {
    /// Number of the feature within its part, from 0.
    pub feature: usize,
    /// What is worked out, a line each.
    pub lines: Vec<Working>,
}

impl Workings {
    /// The arithmetic as it reads on the mirror image.
    fn mirrored(&self) -> Workings {
        Workings {
            feature: self.feature,
            lines: self.lines.iter().map(Working::mirrored).collect(),
        }
    }
}

impl Workpiece {
    /// Joins a part to its work. The work must hold exactly one outer contour.
    pub fn new(part: Arc<Part>, operations: Vec<Operation>) -> Self {
        Self {
            part,
            operations,
            workings: Vec::new(),
            fittings: Vec::new(),
            mating: Vec::new(),
        }
    }

    /// Adds the hardware that goes into it.
    #[must_use]
    pub fn with_fittings(mut self, fittings: Vec<Fitting>) -> Self {
        self.fittings = fittings;
        self
    }

    /// Adds the arithmetic behind the work.
    #[must_use]
    pub fn with_workings(mut self, workings: Vec<Workings>) -> Self {
        self.workings = workings;
        self
    }

    /// Adds the corners that must take those of other parts; what is no corner of a contour or area is passed over.
    #[must_use]
    pub fn with_mating(mut self, corners: Vec<Point>) -> Self {
        let contours = self.operations.iter().filter_map(|op| match &op.work {
            Work::CutContour(cut) => Some(&cut.path),
            Work::MillArea(area) => Some(&area.outline),
            _ => None,
        });
        self.mating = at_vertices(corners, contours);
        self
    }

    /// The other one of a handed pair: the same work mirrored left to right.
    #[must_use]
    pub fn mirrored_as(&self, part: Arc<Part>) -> Workpiece {
        let mirrored = |operation: &Operation| operation.mirrored(self.part.width);
        Self {
            part,
            operations: self.operations.iter().map(mirrored).collect(),
            workings: self.workings.iter().map(Workings::mirrored).collect(),
            fittings: self.fittings.clone(),
            mating: self
                .mating
                .iter()
                .map(|corner| Point::new(self.part.width - corner.x, corner.y))
                .collect(),
        }
    }

    /// Whether anything but the contour is done from a face.
    pub fn has_work_on(&self, face: Face) -> bool {
        self.operations.iter().any(|operation| {
            operation.face() == Some(face) && !matches!(operation.work, Work::CutContour(_))
        })
    }

    /// The outline, counter-clockwise.
    ///
    /// # Panics
    /// When the work holds no outer contour, which [`Workpiece::new`] forbids.
    pub fn outline(&self) -> &Path {
        self.contours(ContourSide::Outer)
            .next()
            .expect("lowering gives every part exactly one outer contour")
    }

    /// The contours of one side.
    pub fn contours(&self, side: ContourSide) -> impl Iterator<Item = &Path> {
        self.operations
            .iter()
            .filter_map(move |operation| match &operation.work {
                Work::CutContour(cut) if cut.side == side => Some(&cut.path),
                _ => None,
            })
    }

    /// The material that the contours leave.
    pub fn region(&self) -> Region {
        Region {
            outer: self.outline().clone(),
            inner: self.contours(ContourSide::Inner).cloned().collect(),
        }
    }
}

/// Those of some points at which a path has a vertex. They are found by the cell that they lie in, or one beside it: there
/// may be thousands of both.
fn at_vertices<'a>(points: Vec<Point>, paths: impl Iterator<Item = &'a Path>) -> Vec<Point> {
    let cell = |at: Point| {
        let side = 10.0 * LENGTH_TOLERANCE;
        ((at.x / side).round() as i64, (at.y / side).round() as i64)
    };
    let vertices = paths.flat_map(|path| &path.vertices);
    let taken: BTreeSet<(i64, i64)> = vertices.map(|vertex| cell(vertex.point)).collect();
    let is_vertex = |point: &Point| {
        let (x, y) = cell(*point);
        let mut around = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y)));
        around.any(|near| taken.contains(&near))
    };
    points.into_iter().filter(is_vertex).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Vertex;

    /// The product of their numbers would be ten thousand million looks.
    #[test]
    fn a_hundred_thousand_points_are_looked_for_among_as_many_vertices() {
        let at = |i: i32| Point::new(f64::from(i) * 0.1, f64::from(i % 2) * 3.0);
        let comb = Path {
            vertices: (0..100_000)
                .map(|i| Vertex {
                    point: at(i),
                    bulge: 0.0,
                })
                .collect(),
            closed: true,
        };
        let mut points: Vec<Point> = (0..100_000).map(at).collect();
        let near = at(7) + Point::new(5e-7, -5e-7);
        points.extend([near, at(7) + Point::new(1e-4, 0.0), Point::new(0.1, 0.0)]);
        let found = at_vertices(points.clone(), [&comb].into_iter());
        assert_eq!(found, points[..=100_000]);
    }
}
