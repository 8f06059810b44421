//! Two parts whose ends are cut to 45 degrees and meet square.

use jigless_model::diag::Finding;
use jigless_model::joint::{GlueLine, TOUCH};
use jigless_model::side::{Edge, Face};
use jigless_model::whole::{Body, Box3, Direction, Side};

use super::joint_context::JointContext;
use super::keys::{Held, LapWith, Members};
use super::kind::{Common, JointKind, Kind};
use crate::build::{degrees, text};
use crate::codes;
use crate::resolve::KeySet;

crate::fields! {
    struct MitreKeys {
        _members: Members,
        /// what holds them
        with: LapWith = "glue",
        held: Held,
    }
}

pub(super) static KIND: JointKind = JointKind {
    key: "mitre",
    summary: "two parts that meet square, the edges of both cut to 45 degrees",
    fields: MitreKeys::FIELDS,
    housed: true,
    read: |fields| Some(Box::new(MitreKeys::read(fields)?)),
};

impl Kind for MitreKeys {
    fn common(&self) -> Common<'_> {
        Common {
            with: self.with,
            held: &self.held,
            described: None,
            depth: None,
        }
    }

    fn make(&self, joint_context: &mut JointContext) -> Option<()> {
        let meeting = joint_context.meeting;
        let common = meeting.common();
        let mut sizes = [0, 1, 2].map(|axis| common.size(axis));
        sizes.sort_by(f64::total_cmp);
        // The slope of the mitre goes from corner to corner of what both ends share.
        joint_context.glue = GlueLine {
            length: sizes[2],
            area: sizes[2] * sizes[0].hypot(sizes[1]),
        };
        let one = (joint_context.part, meeting.part);
        let two = (joint_context.to, meeting.to);
        for ((own, body), (other, others_body)) in [(one, two), (two, one)] {
            let Some((edge, outer)) = mitred(&body, &others_body, common) else {
                let (part, to) = (&joint_context.part.part.id, &joint_context.to.part.id);
                let message = format!("`{part}` and `{to}` do not meet at a corner");
                joint_context.find(
                    Finding::error(codes::JOINT_NOT_SUNK, joint_context.span, message)
                        .fix("let the end of each reach to the outer face of the other"),
                );
                return None;
            };
            let angle = match outer {
                Face::Front => 45.0,
                Face::Back => -45.0,
            };
            let keys = vec![("edge", text(edge.name())), ("angle", degrees(angle))];
            joint_context.add(own, "bevel", keys, &format!("mitre at {}", other.part.id));
        }
        Some(())
    }
}

/// The edge of a part that is cut, and its face outside the corner.
fn mitred(body: &Body, other: &Body, common: Box3) -> Option<(Edge, Face)> {
    // The part ends where the other one is thick, and is outside where the other one ends.
    let end = end_at(body, common, other.thick_axis())?;
    let outside = end_at(other, common, body.thick_axis())?;
    match (body.side(end), body.side(outside)) {
        (Side::Edge(edge), Side::Face(face)) => Some((edge, face)),
        _ => None,
    }
}

/// The direction along an axis in which a body ends with the corner.
fn end_at(body: &Body, common: Box3, axis: usize) -> Option<Direction> {
    let bounds = body.bounds();
    let high = (bounds.max[axis] - common.max[axis]).abs() < TOUCH;
    let low = (bounds.min[axis] - common.min[axis]).abs() < TOUCH;
    match (high, low) {
        (true, false) => Some(Direction::along(axis, 1.0)),
        (false, true) => Some(Direction::along(axis, -1.0)),
        _ => None,
    }
}
