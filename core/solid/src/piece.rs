//! Every piece of a plan in its place.

use std::sync::Arc;

use jigless_model::mark::Marks;
use jigless_model::plan::Plan;
use jigless_model::whole::{Body, Box3, Triple};
use jigless_model::workpiece::Workpiece;

use crate::mesh::Mesh;
use crate::pose::Pose;
use crate::solid::{Solid, solid};

/// One piece of a part, in its place.
#[derive(Debug, Clone)]
pub struct Piece {
    /// Number of its part among the plan's parts.
    pub part: usize,
    /// Id of its part.
    pub id: String,
    /// Mark of its part, the same in every list and picture.
    pub mark: String,
    /// Number of the piece among those of its part, from 0.
    pub number: usize,
    /// How many pieces of the part there are.
    pub of: usize,
    /// The body, in the part's own coordinates; the same for all pieces of the part.
    pub solid: Arc<Solid>,
    /// Where it is.
    pub pose: Pose,
    /// Its box in the whole.
    pub bounds: Box3,
}

impl Piece {
    /// The body in its place.
    pub fn placed(&self) -> Mesh {
        self.pose.mesh(&self.solid.mesh)
    }

    /// Its name: the mark, and its number where there are several.
    pub fn name(&self) -> String {
        if self.of == 1 {
            self.mark.clone()
        } else {
            format!("{}-{}", self.mark, self.number + 1)
        }
    }
}

/// The pieces of some parts that have places, in the order of the plan.
pub fn pieces(plan: &Plan, workpieces: &[Workpiece]) -> Vec<Piece> {
    let marks = Marks::of(plan);
    let mut pieces = Vec::new();
    for workpiece in workpieces {
        let part = &workpiece.part;
        let Some(number) = plan.parts.iter().position(|other| other.id == part.id) else {
            continue;
        };
        let bodies = part.bodies();
        if bodies.is_empty() {
            continue;
        }
        let solid = Arc::new(solid(workpiece));
        for (index, body) in bodies.iter().enumerate() {
            pieces.push(Piece {
                part: number,
                id: part.id.clone(),
                mark: marks.mark(&part.id).to_owned(),
                number: index,
                of: bodies.len(),
                solid: Arc::clone(&solid),
                pose: pose_of(body, part.width, part.is_mirrored()),
                bounds: body.bounds(),
            });
        }
    }
    pieces
}

/// The coordinates of a mirror image's body are those of the part that the plan describes; its work is its own.
fn pose_of(body: &Body, width: f64, image: bool) -> Pose {
    let at = |x: f64, y: f64, depth: f64| -> Triple {
        body.to_whole(if image { width - x } else { x }, y, depth)
    };
    Pose::of_axes(
        at(0.0, 0.0, 0.0),
        at(1.0, 0.0, 0.0),
        at(0.0, 1.0, 0.0),
        at(0.0, 0.0, -1.0),
    )
}
