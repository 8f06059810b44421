//! Two parts that cross, each cut away by half.

use jigless_model::diag::Finding;
use jigless_model::joint::{GlueLine, TOUCH};
use jigless_model::side::{Edge, Face};
use jigless_model::whole::{Body, Direction, Side};

use super::joint_context::JointContext;
use super::keys::{Held, LapWith, Members};
use super::kind::{Common, JointKind, Kind};
use super::member::Member;
use super::screws::on_face;
use crate::build::{FeatureDraft, length, map, text};
use crate::codes;
use crate::resolve::{Distance, KeySet};

crate::fields! {
    struct LapKeys {
        _members: Members,
        /// what holds them
        with: LapWith = "nothing",
        /// how much wider a cut is than the other part at its thickest reading
        slip: Distance = "0.2 mm" [CommonPractice],
        /// how much deeper than half each cut is
        play: Distance = "0.25 mm" [CommonPractice],
        held: Held,
    }
}

pub(super) static KIND: JointKind = JointKind {
    key: "half_lap",
    summary: "two parts that cross, each cut away by half: slots where they stand on edge, wide grooves where they lie flat",
    fields: LapKeys::FIELDS,
    housed: true,
    read: |fields| Some(Box::new(LapKeys::read(fields)?)),
};

impl Kind for LapKeys {
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
        let (a, b) = (meeting.part.thick_axis(), meeting.to.thick_axis());
        // Standing on edge they are cut along the axis that neither is thick along; lying flat, along their thickness.
        let cut = if a == b { a } else { 3 - a - b };
        let middle = common.centre()[cut];
        let across = [0, 1, 2].map(|axis| if axis == cut { 0.0 } else { common.size(axis) });
        let bottom = across.iter().filter(|size| **size > 0.0).product::<f64>();
        // The bottoms of both cuts are one face; each cut has two walls against the faces of the other part.
        joint_context.glue = GlueLine {
            length: (0..3).map(|axis| common.size(axis)).fold(0.0, f64::max),
            area: bottom + common.size(cut) * across.iter().sum::<f64>(),
        };
        let (part, to) = (joint_context.part, joint_context.to);
        for (own, body, other, opens) in
            [(part, meeting.part, to, -1.0), (to, meeting.to, part, 1.0)]
        {
            let opens = Direction::along(cut, opens);
            let side = body.looks(body.side(opens));
            let surface = if side.sign() > 0.0 {
                body.bounds().max[cut]
            } else {
                body.bounds().min[cut]
            };
            let depth = (surface - middle).abs() + self.play;
            let feature = match body.side(opens) {
                Side::Edge(edge) => Some(slot(joint_context, &body, edge, depth, self.slip, other)),
                Side::Face(face) => flat(joint_context, &body, face, depth, self.slip),
            };
            let Some((key, keys)) = feature else {
                joint_context.find(
                    Finding::error(
                        codes::JOINT_NOT_SUNK,
                        joint_context.span,
                        format!("`{}` and `{}` do not cross", part.part.id, to.part.id),
                    )
                    .fix("let each reach over the other"),
                );
                return None;
            };
            joint_context.add(own, key, keys, &format!("lap of {}", other.part.id));
        }
        Some(())
    }
}

/// A notch in the edge of a part that stands on edge.
fn slot(
    joint_context: &JointContext,
    body: &Body,
    edge: Edge,
    depth: f64,
    slip: f64,
    other: Member,
) -> FeatureDraft {
    let area = on_face(body, joint_context.meeting.common());
    let (low, high) = if edge.is_upright() {
        (area.min.y, area.max.y)
    } else {
        (area.min.x, area.max.x)
    };
    let width = (high - low).max(other.part.stock.thickest()) + slip;
    let start = f64::midpoint(low, high) - width / 2.0;
    let keys = vec![
        ("edge", text(edge.name())),
        ("start", length(start.max(0.0))),
        ("width", length(width + start.min(0.0))),
        ("depth", length(depth)),
    ];
    ("notch", keys)
}

/// A wide groove, or a rebate at an end, in the face of a part that lies flat.
fn flat(
    joint_context: &JointContext,
    body: &Body,
    face: Face,
    depth: f64,
    slip: f64,
) -> Option<FeatureDraft> {
    let area = on_face(body, joint_context.meeting.common());
    let size = body.size();
    let across_whole = area.min.y <= TOUCH && area.max.y >= size[1] - TOUCH;
    let up_whole = area.min.x <= TOUCH && area.max.x >= size[0] - TOUCH;
    let (upright, low, high, run) = match (across_whole, up_whole) {
        (true, _) => (true, area.min.x, area.max.x, size[0]),
        (false, true) => (false, area.min.y, area.max.y, size[1]),
        (false, false) => return None,
    };
    let depth = ("depth", length(depth));
    let face = ("face", text(face.name()));
    let ends = if upright {
        [Edge::Left, Edge::Right]
    } else {
        [Edge::Bottom, Edge::Top]
    };
    let end = match (low <= TOUCH, high >= run - TOUCH) {
        (true, _) => Some(ends[0]),
        (_, true) => Some(ends[1]),
        _ => None,
    };
    if let Some(edge) = end {
        let width = ("width", length((high - low + slip / 2.0).min(run)));
        return Some((
            "rebate",
            vec![("edge", text(edge.name())), width, depth, face],
        ));
    }
    let from = [(ends[0].name(), length(low - slip / 2.0))];
    let keys = vec![
        ("along", text(if upright { "height" } else { "width" })),
        ("from", map(joint_context.span, from)),
        ("width", length(high - low + slip)),
        depth,
        face,
    ];
    Some(("groove", keys))
}
