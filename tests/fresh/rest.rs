//! A part that lies on another one, and that nothing holds.

use super::attach::JointWork;
use super::fields::{GLUE, PART, TO, WORK};
use super::kind::JointKind;
use super::joint_context::JointContext;
use super::nodes::outline;
use super::screws::{face_toward, on_face, opposite};
use crate::resolve::{Field, Fields, Shape};

pub(super) static KIND: JointKind = JointKind {
    key: "rest",
    summary: "a part that lies on another one and can be taken off",
    fields: &[
        PART,
        TO,
        Field::with_default("with", Shape::Word(&["nothing"]), "nothing", "what holds them"),
        GLUE,
        WORK,
    ],
    housed: false,
    make,
};

/// Draws where the part lies.
fn make(_: &Fields, joint_context: &mut JointContext) -> Option<()> {
    let meeting = joint_context.meeting;
    let toward = opposite(meeting.touching()?);
    if let Some(face) = face_toward(&meeting.to, toward) {
        let bounds = on_face(&meeting.to, meeting.common());
        let (part, to) = (joint_context.part.part, joint_context.to);
        let keys = outline(joint_context.span, bounds, face, &part.title);
        let label = format!("place of {}", part.id);
        let mark = JointWork::new(to.part_id(), to.only(), joint_context.span, "mark", keys, &label);
        joint_context.made.push(mark);
    }
    Some(())
}
