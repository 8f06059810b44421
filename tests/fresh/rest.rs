//! A part that lies on another one, and that nothing holds.

use super::attach::Made;
use super::fields::{GLUE, PART, TO, WORK};
use super::kind::JointKind;
use super::making::Making;
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
    captures: false,
    make,
};

/// Draws where the part lies.
fn make(_: &Fields, making: &mut Making) -> Option<()> {
    let meeting = making.meeting;
    let toward = opposite(meeting.touching()?);
    if let Some(face) = face_toward(&meeting.to, toward) {
        let bounds = on_face(&meeting.to, meeting.common());
        let (part, to) = (making.part.part, making.to);
        let keys = outline(making.span, bounds, face, &part.title);
        let label = format!("place of {}", part.id);
        let mark = Made::new(to.carrier(), to.only(), making.span, "mark", keys, &label);
        making.made.push(mark);
    }
    Some(())
}
