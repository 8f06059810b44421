//! A part that lies on another one, and that nothing holds.

use super::keys::{Held, LapWith, Members};
use super::kind::{Common, JointKind, Kind};
use super::joint_context::JointContext;
use super::nodes::outline;
use super::screws::{face_toward, on_face, opposite};
use crate::resolve::KeySet;

crate::fields! {
    struct RestKeys {
        _members: Members,
        /// what holds them
        with: LapWith = "nothing",
        held: Held,
    }
}

pub(super) static KIND: JointKind = JointKind {
    key: "rest",
    summary: "a part that lies on another one and can be taken off",
    fields: RestKeys::FIELDS,
    housed: false,
    read: |fields| Some(Box::new(RestKeys::read(fields)?)),
};

impl Kind for RestKeys {
    fn common(&self) -> Common<'_> {
        Common {
            with: self.with,
            held: &self.held,
            described: None,
            depth: None,
        }
    }

    /// Draws where the part lies.
    fn make(&self, joint_context: &mut JointContext) -> Option<()> {
        let meeting = joint_context.meeting;
        let toward = opposite(meeting.touching()?);
        if let Some(face) = face_toward(&meeting.to, toward) {
            let bounds = on_face(&meeting.to, meeting.common());
            let part = joint_context.part.part;
            let keys = outline(joint_context.span, bounds, face, &part.title);
            joint_context.add(joint_context.to, "mark", keys, &format!("place of {}", part.id));
        }
        Some(())
    }
}
