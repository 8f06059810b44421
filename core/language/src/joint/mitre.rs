//! Two parts whose ends are cut to 45 degrees and meet square.

use jigless_model::diag::Finding;
use jigless_model::side::Face;
use jigless_model::whole::{Body, Box3, Side};

use super::attach::Made;
use super::fields::{GLUE, PART, TO, WORK};
use super::kind::JointKind;
use super::making::Making;
use crate::build::text;
use crate::codes;
use crate::resolve::{Field, Fields, Shape};

pub(super) static KIND: JointKind = JointKind {
    key: "mitre",
    summary: "two parts that meet square, the edges of both cut to 45 degrees",
    fields: &[
        PART,
        TO,
        Field::with_default(
            "with",
            Shape::Word(&["glue", "nothing"]),
            "glue",
            "what holds them",
        ),
        GLUE,
        WORK,
    ],
    captures: true,
    make,
};

fn make(fields: &Fields, making: &mut Making) -> Option<()> {
    let meeting = making.meeting;
    let common = meeting.common();
    making.glue = (0..3).map(|axis| common.size(axis)).fold(0.0, f64::max);
    let (part, to) = (making.part, making.to);
    for (own, body, other) in [
        (part, meeting.part, meeting.to),
        (to, meeting.to, meeting.part),
    ] {
        let Some((edge, outer)) = mitred(&body, &other, common) else {
            fields.context().find(
                Finding::error(
                    codes::JOINT_NOT_SUNK,
                    fields.span,
                    format!(
                        "`{}` and `{}` do not meet at a corner",
                        part.part.id, to.part.id
                    ),
                )
                .fix("let the end of each reach to the outer face of the other"),
            );
            return None;
        };
        let angle = if outer == Face::Front { "45" } else { "-45" };
        let keys = vec![("edge", text(edge)), ("angle", text(angle))];
        let label = format!(
            "mitre at {}",
            if own.part.id == part.part.id {
                &to
            } else {
                &part
            }
            .part
            .id
        );
        let made = Made::new(
            own.carrier(),
            own.only(),
            making.span,
            "bevel",
            keys,
            &label,
        );
        making.made.push(made);
    }
    Some(())
}

/// The edge of a part that is cut, and its face outside the corner.
fn mitred(body: &Body, other: &Body, common: Box3) -> Option<(&'static str, Face)> {
    // The part ends where the other one is thick, and is outside where the other one ends.
    let end = end_at(body, common, other.thick_axis())?;
    let outside = end_at(other, common, body.thick_axis())?;
    match (body.side(end), body.side(outside)) {
        (Side::Edge(edge), Side::Face(face)) => Some((edge.name(), face)),
        _ => None,
    }
}

/// The direction along an axis in which a body ends with the corner.
fn end_at(body: &Body, common: Box3, axis: usize) -> Option<jigless_model::whole::Direction> {
    use jigless_model::joint::TOUCH;
    let bounds = body.bounds();
    let high = (bounds.max[axis] - common.max[axis]).abs() < TOUCH;
    let low = (bounds.min[axis] - common.min[axis]).abs() < TOUCH;
    match (high, low) {
        (true, false) => Some(jigless_model::whole::Direction::along(axis, 1.0)),
        (false, true) => Some(jigless_model::whole::Direction::along(axis, -1.0)),
        _ => None,
    }
}
