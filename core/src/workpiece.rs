//! A part together with the work that is done to it.

use std::sync::Arc;

use crate::geom::{Path, Region};
use crate::operation::{ContourSide, Operation, Work};
use crate::plan::Part;
use crate::side::Face;
use crate::view::FaceView;

/// A part together with the work that is done to it, in the order of the plan, its contours last (the openings, then
/// the outline).
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Workpiece {
    /// The part.
    pub part: Arc<Part>,
    /// What is done to it.
    pub operations: Vec<Operation>,
}

impl Workpiece {
    /// Joins a part to its work. The work must hold exactly one outer contour.
    pub fn new(part: Arc<Part>, operations: Vec<Operation>) -> Self {
        Self { part, operations }
    }

    /// The part as seen on one face.
    pub fn seen_from(&self, face: Face) -> FaceView<'_> {
        FaceView::new(self, face)
    }

    /// Whether anything but the contour is done from a face.
    pub fn has_work_on(&self, face: Face) -> bool {
        self.operations.iter().any(|operation| {
            operation.face() == Some(face) && !matches!(operation.work, Work::CutContour(_))
        })
    }

    /// The outline, counter-clockwise.
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
