//! A part as seen by a person who looks at one of its faces.

use crate::operation::{CutContour, Operation, Work};
use crate::side::{Edge, Face};
use crate::workpiece::Workpiece;

/// One face of a part in view coordinates: millimetres, x to the right and y upward **as seen on that face**.
///
/// The back is seen after turning the part over about its vertical axis, like the page of a book, so the physical left
/// edge is on the right-hand side. Every [`Edge`] in `operations` is a side of the view; [`FaceView::physical`] gives
/// the edge's own name, which is what belongs on paper.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct FaceView<'a> {
    /// The part that is looked at.
    pub workpiece: &'a Workpiece,
    /// The face that is looked at.
    pub face: Face,
    /// Size along x, in millimetres.
    pub width: f64,
    /// Size along y, in millimetres.
    pub height: f64,
    /// The contour as seen from here, whichever face it is cut from: the outline first, then the openings.
    pub contours: Vec<CutContour>,
    /// The work done from this face, without the contours and without work on edges.
    pub operations: Vec<Operation>,
    /// Work done from the other face that comes out here: through holes.
    pub from_other_face: Vec<Operation>,
    /// Work on the edges.
    pub edge_work: Vec<Operation>,
}

impl<'a> FaceView<'a> {
    /// Looks at one face.
    pub fn new(workpiece: &'a Workpiece, face: Face) -> Self {
        let width = workpiece.part.width;
        let mut view = Self {
            workpiece,
            face,
            width,
            height: workpiece.part.height,
            contours: Vec::new(),
            operations: Vec::new(),
            from_other_face: Vec::new(),
            edge_work: Vec::new(),
        };
        for operation in &workpiece.operations {
            let seen = match face {
                Face::Front => operation.clone(),
                Face::Back => operation.mirrored(width),
            };
            let here = operation.face() == Some(face);
            match (&seen.work, here) {
                (Work::CutContour(cut), _) => view.contours.push(cut.clone()),
                (Work::EdgeDrill(_) | Work::Bevel(_), _) => view.edge_work.push(seen),
                (_, true) => view.operations.push(seen),
                (Work::Drill(drill), false) if drill.depth == crate::operation::Depth::Through => {
                    view.from_other_face.push(seen);
                }
                _ => {}
            }
        }
        view
    }

    /// The part's own name of a side of the view.
    pub fn physical(&self, side: Edge) -> Edge {
        match self.face {
            Face::Front => side,
            Face::Back => side.mirrored(),
        }
    }
}

impl Workpiece {
    /// The part as seen on one face.
    pub fn seen_from(&self, face: Face) -> FaceView<'_> {
        FaceView::new(self, face)
    }
}
