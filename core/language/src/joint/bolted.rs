//! Two parts that bolts hold together, which go through one of them into threaded inserts in the other.

use jigless_model::diag::Finding;
use jigless_model::hardware::FittingKind;
use jigless_model::joint::With;
use jigless_model::source::Spanned;
use jigless_model::whole::Side;

use super::joint_context::JointContext;
use super::keys::{Described, Glue, Held, Members};
use super::kind::{Common, JointKind, Kind};
use super::screws::{Bolting, Hold, bolts, face_toward, opposite};
use crate::build::hardware;
use crate::codes;
use crate::resolve::{KeySet, Map, Size, Spread, YesNo};
use crate::sold::{self, Wanted};

crate::fields! {
    /// The keys of a joint with bolts.
    struct BoltedKeys {
        _members: Members,
        /// where along the joint the bolts are, from the left or bottom end of the part's edge there; as screws are where
        /// nothing is said
        at: Option<Spread> [CommonPractice],
        /// the bolt
        bolt: Option<Map<BoltKeys>>,
        /// the insert, from its data sheet
        insert: Map<InsertKeys>,
        /// whether the part lifts off when its bolts are out: nothing is in its way upward
        lifts_off: YesNo = "no",
        held: Held,
        described: Described,
    }
}

crate::fields! {
    struct BoltKeys {
        /// its thread
        gauge: Option<String>,
        /// its length; the longest of `lengths_sold` that does not come to the bottom where nothing is said
        length: Option<Size>,
        /// hole for it; a tenth more than 6 mm where nothing is said
        clearance: Option<Size> [Note("ISO 273 medium for M6: 6.6")],
    }
}

crate::fields! {
    struct InsertKeys {
        /// hole that its maker asks for
        hole: Spanned<Size>,
        /// its length
        length: Spanned<Size>,
    }
}

pub(super) static KIND: JointKind = JointKind {
    key: "bolted",
    summary: "bolts through one part into threaded inserts in the other, for what comes apart again",
    fields: BoltedKeys::FIELDS,
    housed: false,
    read: |fields| Some(Box::new(BoltedKeys::read(fields)?)),
};

/// Air below the insert, in which a bolt ends, in millimetres (common practice, no source).
const BELOW: f64 = 2.0;
/// Wood that stays below that, in millimetres (common practice, no source).
const FLOOR: f64 = 1.0;

impl Kind for BoltedKeys {
    fn common(&self) -> Common<'_> {
        Common {
            with: With::Bolts,
            held: &self.held,
            described: Some(&self.described),
            depth: None,
        }
    }

    fn lifts_off(&self) -> bool {
        self.lifts_off
    }

    #[expect(
        clippy::too_many_lines,
        reason = "what cannot be bolted is reported in the order in which it is found"
    )]
    fn make(&self, joint_context: &mut JointContext) -> Option<()> {
        let meeting = joint_context.meeting;
        let d = meeting.touching()?;
        if self.lifts_off && self.held.glue == Glue::Yes {
            joint_context.find(
                Finding::error(
                    codes::LIFTS_OFF_GLUED,
                    joint_context.span,
                    format!(
                        "`{}` is glued to `{}`, and cannot lift off",
                        joint_context.part.part.id, joint_context.to.part.id
                    ),
                )
                .fix("leave out `glue`, or `lifts_off`"),
            );
            return None;
        }
        let region = meeting.common();
        let by_part = Hold {
            through: (joint_context.part, meeting.part),
            into: (joint_context.to, meeting.to),
            d,
            region,
        };
        let by_other = Hold {
            through: (joint_context.to, meeting.to),
            into: (joint_context.part, meeting.part),
            d: opposite(d),
            region,
        };
        // Through the part that lies on the other with its face.
        let part_lies = matches!(meeting.part.side(d), Side::Face(_));
        let hold = if part_lies { by_part } else { by_other };
        let far = opposite(hold.d);
        if face_toward(&hold.through.1, far).is_none() || face_toward(&hold.into.1, far).is_none() {
            joint_context.find(
                Finding::error(
                    codes::SCREW_THROUGH_EDGE,
                    joint_context.span,
                    format!(
                        "`{}` meets `{}` with an edge, and bolts go through the face of one part into that of the other",
                        hold.through.0.part.id, hold.into.0.part.id
                    ),
                )
                .fix("let the two lie on each other, or use screws"),
            );
            return None;
        }
        let (passed, ahead) = (hold.passed(), hold.ahead());
        let insert = (self.insert.hole.value, self.insert.length.value);
        let deep = (insert.1 + BELOW).min(ahead - FLOOR);
        if deep < insert.1 {
            let unit = joint_context.context.unit();
            joint_context.find(
                Finding::error(
                    codes::NO_ROOM,
                    self.insert.length.span,
                    format!(
                        "`{}`: an insert {} long has no room in it, {} thick",
                        hold.into.0.part.id,
                        unit.show(insert.1),
                        unit.show(ahead)
                    ),
                )
                .fix(format!(
                    "take one at most {} long",
                    unit.show(ahead - FLOOR)
                )),
            );
            return None;
        }
        let bolt = self.bolt.as_ref();
        let gauge = bolt
            .and_then(|bolt| bolt.gauge.clone())
            .unwrap_or_else(|| "M6".to_owned());
        let given = bolt.and_then(|bolt| bolt.length);
        let wanted = Wanted {
            least: passed + insert.1.min(6.0),
            most: passed + deep,
            longest: true,
            ..Wanted::ANY
        };
        let length = given.or_else(|| wanted.choose(&sold::screws(&joint_context.context)));
        let Some(length) = length else {
            let unit = joint_context.context.unit();
            let (least, most) = (unit.show(wanted.least), unit.show(wanted.most));
            joint_context.find(
                Finding::error(
                    codes::NO_SCREW,
                    joint_context.span,
                    format!("no bolt that is sold fits here: one from {least} to {most} would"),
                )
                .fix(format!(
                    "give `bolt: {{length: ...}}` from {least} to {most}"
                )),
            );
            return None;
        };
        let span = joint_context.span;
        let bolting = Bolting {
            clearance: bolt.and_then(|bolt| bolt.clearance).unwrap_or(6.6),
            bolt: hardware(span, FittingKind::Bolt, Some(length), Some(&gauge)),
            hole: insert.0,
            depth: deep,
            insert_length: insert.1,
            insert: hardware(span, FittingKind::Insert, Some(insert.1), None),
        };
        bolts(self.at.as_ref(), &bolting, joint_context, &hold)
    }
}
