//! A part that goes into a cut of the other: rebate, housing and groove.

use jigless_model::diag::Finding;
use jigless_model::geom::Bounds;
use jigless_model::joint::{GlueLine, TOUCH, With};
use jigless_model::side::{Edge, Face};
use jigless_model::source::{Span, Spanned};
use jigless_model::whole::{Body, Box3, Direction, Side};

use super::joint_context::JointContext;
use super::keys::{Described, Held, Members, Screwed};
use super::kind::{Common, JointKind, Kind};
use super::member::Member;
use super::nodes::face_key;
use super::screws::{Hold, on_face, screw};
use crate::build::{Keys, length, map, text};
use crate::codes;
use crate::resolve::{Distance, KeySet, Map, Size, YesNo};

crate::fields! {
    /// The first keys of a joint with a cut.
    struct Cut {
        _members: Members,
        /// what holds them
        with: SunkWith = "glue",
        /// depth of the cut; as deep as the part goes in where nothing is said
        depth: Option<Spanned<Size>>,
    }
}

crate::fields! {
    /// The last keys of a joint with a cut.
    struct Rest {
        /// keeps the cut away from the ends of the other part
        stop: Option<Map<StopKeys>>,
        /// whether the cut ends where the part does; otherwise it runs from end to end
        stopped: YesNo = "no",
        screwed: Screwed,
        held: Held,
        described: Described,
    }
}

crate::fields! {
    struct StopKeys {
        /// from the left or bottom end of the other part
        start: Distance = "0",
        /// from the right or top end of the other part
        end: Distance = "0",
    }
}

crate::fields! {
    struct RebateKeys {
        cut: Cut,
        /// how far the rebate reaches in; as far as the part does where nothing is said
        width: Option<Size>,
        rest: Rest,
    }
}

crate::fields! {
    struct GrooveKeys {
        cut: Cut,
        /// how much wider the cut is than the part is thick at its thickest reading
        slip: Distance = "0.2 mm" [CommonPractice],
        rest: Rest,
    }
}

crate::some_words! {
    /// What may hold a part in a cut.
    SunkWith of With: Glue, Screws, Nothing
}

/// A part that stays this near to an edge lies at it, in millimetres: what is left would be a splinter.
const NEAR_EDGE: f64 = 0.5;

pub(super) static REBATE: JointKind = JointKind {
    key: "rebate",
    summary: "a part in a step along the edge of the other",
    fields: RebateKeys::FIELDS,
    housed: true,
    read: |fields| Some(Box::new(RebateKeys::read(fields)?)),
};

pub(super) static HOUSING: JointKind = JointKind {
    key: "housing",
    summary: "the end of a part in a groove across the other",
    fields: GrooveKeys::FIELDS,
    housed: true,
    read: |fields| Some(Box::new(GrooveKeys::read(fields)?)),
};

pub(super) static GROOVE: JointKind = JointKind {
    key: "groove",
    summary: "a panel in a groove of the other part",
    fields: GrooveKeys::FIELDS,
    housed: true,
    read: |fields| Some(Box::new(GrooveKeys::read(fields)?)),
};

fn common<'a>(cut: &Cut, rest: &'a Rest) -> Common<'a> {
    Common {
        with: cut.with,
        held: &rest.held,
        described: Some(&rest.described),
        depth: cut.depth.map(|depth| depth.value),
    }
}

/// What the part takes of the other one.
struct Sunk {
    /// The rectangle on the face of the other part.
    area: Bounds,
    face: Face,
    depth: f64,
    /// Out of that face, toward the part.
    out: Direction,
}

fn sunk(cut: &Cut, joint_context: &JointContext) -> Option<Sunk> {
    let meeting = joint_context.meeting;
    let to = meeting.to;
    let common = meeting.common();
    let (_, a) = to.to_part(common.min);
    let (_, b) = to.to_part(common.max);
    let (low, high) = (a.min(b), a.max(b));
    let thickness = to.size()[2];
    let unit = joint_context.context.unit();
    let (face, reach) = if low <= TOUCH {
        (Face::Front, high)
    } else if high >= thickness - TOUCH {
        (Face::Back, thickness - low)
    } else {
        let (part, to) = (&joint_context.part.part.id, &joint_context.to.part.id);
        let message = format!("`{part}` is inside `{to}` and comes out of neither face");
        joint_context.find(
            Finding::error(codes::JOINT_NOT_SUNK, joint_context.span, message)
                .fix("check the places of the two"),
        );
        return None;
    };
    let depth = cut.depth.map_or(reach, |depth| depth.value);
    if reach > depth + TOUCH {
        joint_context.find(
            Finding::error(
                codes::JOINT_OVERLAPS,
                cut.depth.map_or(joint_context.span, |depth| depth.span),
                format!(
                    "`{}` goes in {}, and the cut is {} deep",
                    joint_context.part.part.id,
                    unit.show(reach),
                    unit.show(depth)
                ),
            )
            .fix("shorten the part or deepen the cut"),
        );
        return None;
    }
    let out = to.looks(Side::Face(face));
    Some(Sunk {
        area: on_face(&to, common),
        face,
        depth,
        out,
    })
}

impl Kind for RebateKeys {
    fn common(&self) -> Common<'_> {
        common(&self.cut, &self.rest)
    }

    fn make(&self, joint_context: &mut JointContext) -> Option<()> {
        let cut = sunk(&self.cut, joint_context)?;
        let size = joint_context.meeting.to.size();
        // A rebate that is wider than the part is thick may leave a step at the edge.
        let step = self.width.map_or(0.0, |width| {
            (width - cut.area.width().min(cut.area.height())).max(0.0)
        });
        let near = NEAR_EDGE + step;
        let reaches = |edge: Edge| match edge {
            Edge::Left => cut.area.min.x <= near,
            Edge::Right => cut.area.max.x >= size[0] - near,
            Edge::Bottom => cut.area.min.y <= near,
            Edge::Top => cut.area.max.y >= size[1] - near,
        };
        // Along the edge that the part lies along: the longer way of what it takes.
        let upright = cut.area.height() >= cut.area.width();
        let edge = Edge::ALL
            .into_iter()
            .filter(|edge| reaches(*edge))
            .max_by_key(|edge| edge.is_upright() == upright);
        let Some(edge) = edge else {
            let (part, to) = (&joint_context.part.part.id, &joint_context.to.part.id);
            let message = format!("`{part}` does not lie at an edge of `{to}`");
            joint_context.find(
                Finding::error(codes::JOINT_NOT_SUNK, joint_context.span, message)
                    .fix("use a housing or a groove"),
            );
            return None;
        };
        // From the edge: a part that keeps a hair away from it has no wood left there.
        let across = match edge {
            Edge::Left => cut.area.max.x,
            Edge::Right => size[0] - cut.area.min.x,
            Edge::Bottom => cut.area.max.y,
            Edge::Top => size[1] - cut.area.min.y,
        };
        let mut keys: Keys = vec![
            ("edge", text(edge.name())),
            ("width", length(self.width.unwrap_or(across))),
            ("depth", length(cut.depth)),
            face_key(cut.face),
        ];
        keys.extend(
            self.rest
                .stops(joint_context.span, edge.is_upright(), cut.area, size),
        );
        keys.push(("mating", text("true")));
        let label = format!("rebate for {}", joint_context.part.part.id);
        joint_context.add(joint_context.to, "rebate", keys, &label);
        finish(&self.cut, &self.rest, joint_context, &cut)
    }
}

impl Kind for GrooveKeys {
    fn common(&self) -> Common<'_> {
        common(&self.cut, &self.rest)
    }

    fn make(&self, joint_context: &mut JointContext) -> Option<()> {
        let cut = sunk(&self.cut, joint_context)?;
        let size = joint_context.meeting.to.size();
        let upright = cut.area.height() >= cut.area.width();
        let (near, across, edge, along) = if upright {
            (cut.area.min.x, cut.area.width(), Edge::Left, "height")
        } else {
            (cut.area.min.y, cut.area.height(), Edge::Bottom, "width")
        };
        let thick = joint_context.meeting.part.thick_axis();
        let flat = joint_context.meeting.common();
        // The part's own thickness lies across the groove, and a slot must take its thickest reading.
        let most = if (flat.size(thick) - across).abs() < TOUCH {
            joint_context.part.part.stock.thickest()
        } else {
            across
        };
        let width = most + self.slip;
        let from = [(edge.name(), length(near + across / 2.0 - width / 2.0))];
        let span = joint_context.span;
        let mut keys: Keys = vec![
            ("along", text(along)),
            ("from", map(span, from)),
            ("width", length(width)),
            ("depth", length(cut.depth)),
            face_key(cut.face),
        ];
        keys.extend(self.rest.stops(span, upright, cut.area, size));
        keys.push(("mating", text("true")));
        let label = format!("groove for {}", joint_context.part.part.id);
        joint_context.add(joint_context.to, "groove", keys, &label);
        finish(&self.cut, &self.rest, joint_context, &cut)
    }
}

impl Rest {
    /// What keeps a cut away from the ends of the other part.
    fn stops(&self, span: Span, upright: bool, area: Bounds, size: [f64; 3]) -> Keys {
        let (start, end) = match &self.stop {
            Some(stop) => (stop.start, stop.end),
            None if !self.stopped => (0.0, 0.0),
            None if upright => (area.min.y, size[1] - area.max.y),
            None => (area.min.x, size[0] - area.max.x),
        };
        if start <= TOUCH && end <= TOUCH {
            return Vec::new();
        }
        let ends = [
            ("start", length(start.max(0.0))),
            ("end", length(end.max(0.0))),
        ];
        vec![("stop", map(span, ends))]
    }
}

/// Glue and screws.
fn finish(keys: &Cut, rest: &Rest, joint_context: &mut JointContext, cut: &Sunk) -> Option<()> {
    let length = cut.area.width().max(cut.area.height());
    // The bottom of the cut and its two long walls.
    let area = cut.area.width() * cut.area.height() + 2.0 * length * cut.depth;
    joint_context.glue = GlueLine { length, area };
    if keys.with != With::Screws {
        return Some(());
    }
    let meeting = joint_context.meeting;
    let through: (Member, Body) = (joint_context.to, meeting.to);
    let hold = Hold {
        through,
        into: (joint_context.part, meeting.part),
        d: cut.out,
        region: flattened(meeting.common(), cut.out),
    };
    screw(&rest.screwed, joint_context, &hold)
}

/// The side of a box that looks against a direction: where the end of the part meets the bottom of the cut.
fn flattened(mut region: Box3, d: Direction) -> Box3 {
    let axis = d.axis();
    if d.sign() > 0.0 {
        region.max[axis] = region.min[axis];
    } else {
        region.min[axis] = region.max[axis];
    }
    region
}
