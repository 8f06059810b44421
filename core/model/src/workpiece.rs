//! A part together with the work that is done to it.

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
        self.mating = corners;
        let contours = |work: &Self, corner: Point| {
            let mut cuts = work.operations.iter().filter_map(|op| match &op.work {
                Work::CutContour(cut) => Some(&cut.path),
                Work::MillArea(area) => Some(&area.outline),
                _ => None,
            });
            cuts.any(|path| {
                let mut vertices = path.vertices.iter();
                vertices.any(|v| v.point.distance(corner) <= 10.0 * LENGTH_TOLERANCE)
            })
        };
        let corners = std::mem::take(&mut self.mating);
        self.mating = corners
            .into_iter()
            .filter(|&c| contours(&self, c))
            .collect();
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
