//! Two parts that touch.

use jigless_model::joint::{GlueLine, With, outline_label};
use jigless_model::side::Face;
use jigless_model::whole::Side;

use super::joint_context::JointContext;
use super::keys::{Described, DowelKeys, Held, Members, Screwed};
use super::kind::{Common, JointKind, Kind};
use super::nodes::outline;
use super::screws::{Hold, dowel, face_toward, on_face, opposite, pocket, screw};
use crate::resolve::{KeySet, Map, Size, YesNo};

crate::fields! {
    /// The keys of a butt joint.
    pub(super) struct ButtKeys {
        _members: Members,
        /// what holds them
        with: ButtWith = "screws",
        screwed: Screwed,
        /// the dowels
        dowel: Option<Map<DowelKeys>>,
        /// the face of `part` that pockets are drilled into
        pocket_face: Face = "front",
        /// wood between the bottom of a pocket and the edge, along the screw; as much as the part is thick where nothing is
        /// said
        shoulder: Option<Size> [CommonPractice],
        /// whether the outline of the part is drawn in pencil where it meets the other
        mark: YesNo = "yes",
        held: Held,
        described: Described,
    }
}

crate::some_words! {
    /// What may hold two parts that touch.
    pub(super) ButtWith of With: Screws, PocketScrews, Dowels, Glue, Nothing
}

pub(super) static KIND: JointKind = JointKind {
    key: "butt",
    summary: "two parts that touch, held by screws, pocket screws, dowels or plain glue",
    fields: ButtKeys::FIELDS,
    housed: false,
    read: |fields| Some(Box::new(ButtKeys::read(fields)?)),
};

impl Kind for ButtKeys {
    fn common(&self) -> Common<'_> {
        Common {
            with: self.with,
            held: &self.held,
            described: Some(&self.described),
            depth: None,
        }
    }

    fn make(&self, joint_context: &mut JointContext) -> Option<()> {
        let meeting = joint_context.meeting;
        let d = meeting.touching()?;
        let region = meeting.common();
        if let (true, Some(face)) = (self.mark, face_toward(&meeting.to, opposite(d))) {
            let bounds = on_face(&meeting.to, region);
            let part = joint_context.part.part;
            let keys = outline(joint_context.span, bounds, face, &part.title);
            let label = outline_label(&part.id);
            joint_context.add(joint_context.to, "mark", keys, &label);
        }
        let mut sizes: Vec<f64> = (0..3).map(|axis| region.size(axis)).collect();
        sizes.sort_by(f64::total_cmp);
        joint_context.glue = GlueLine {
            length: sizes[2],
            area: sizes[2] * sizes[1],
        };
        let mut hold = Hold {
            through: (joint_context.to, meeting.to),
            into: (joint_context.part, meeting.part),
            d: opposite(d),
            region,
        };
        // Screws go through the part that meets the other with its face: a back into the edge of a side.
        let edge_on = matches!(meeting.to.side(opposite(d)), Side::Edge(_));
        let face_on = matches!(meeting.part.side(d), Side::Face(_));
        if edge_on && face_on && self.with == With::Screws {
            hold = Hold {
                through: hold.into,
                into: hold.through,
                d,
                region,
            };
        }
        match self.with {
            With::Screws => screw(&self.screwed, joint_context, &hold),
            With::PocketScrews => pocket(
                &self.screwed,
                self.pocket_face,
                self.shoulder,
                joint_context,
                &hold,
            ),
            With::Dowels => dowel(&self.screwed, self.dowel.as_ref(), joint_context, &hold),
            With::Glue | With::Nothing | With::Bolts => Some(()),
        }
    }
}
