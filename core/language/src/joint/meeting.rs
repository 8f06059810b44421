//! Where two parts meet.

use jigless_model::diag::Finding;
use jigless_model::joint::{Meeting, TOUCH};
use jigless_model::plan::Part;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Span;
use jigless_model::whole::{Body, Direction, Placement};

use super::keys::{Described, Work};
use super::kind::Common;
use super::member::Member;
use crate::codes;
use crate::resolve::Context;

/// Two parts whose meetings are looked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Seeking<'a> {
    pub(super) context: Context<'a>,
    /// Where the plan joins them.
    pub(super) span: Span,
    /// Whether one goes into the other.
    pub(super) housed: bool,
    pub(super) part: Member<'a>,
    pub(super) to: Member<'a>,
}

impl Seeking<'_> {
    /// Every meeting, and whether they are known from places.
    pub(super) fn meetings(&self, keys: &Common) -> Option<(Vec<Meeting>, bool)> {
        let (bodies, others) = (self.part.part.bodies(), self.to.part.bodies());
        if bodies.is_empty() || others.is_empty() {
            if keys.held.work == Work::Given {
                return Some((Vec::new(), false));
            }
            return self.described(keys).map(|meeting| (vec![meeting], false));
        }
        let housed = self.housed;
        let mut found = Vec::new();
        for (part_piece, body) in bodies.iter().enumerate() {
            for (to_piece, other) in others.iter().enumerate() {
                let meeting = Meeting {
                    part: *body,
                    to: *other,
                    part_piece,
                    to_piece,
                };
                let sunk = body.bounds().overlaps(other.bounds(), TOUCH);
                if sunk && housed || !housed && !sunk && meeting.touching().is_some() {
                    found.push(meeting);
                }
            }
        }
        if found.is_empty() {
            self.report_apart(&bodies, &others);
            return None;
        }
        Some((found, true))
    }

    fn report_apart(&self, bodies: &[Body], others: &[Body]) {
        let unit = self.context.unit();
        let distance = bodies
            .iter()
            .flat_map(|a| others.iter().map(|b| a.bounds().apart(b.bounds())))
            .fold(f64::MAX, f64::min);
        let (one, other) = (&self.part.part.id, &self.to.part.id);
        let (code, message, fix) = if distance > TOUCH {
            let apart = unit.show(distance);
            (
                codes::JOINT_APART,
                format!("`{one}` and `{other}` do not meet: they are {apart} apart"),
                "move or lengthen one of them",
            )
        } else if self.housed {
            (
                codes::JOINT_NOT_SUNK,
                format!("`{one}` only touches `{other}`, and this joint needs it to go in"),
                "lengthen it by the depth of the cut, or use a butt joint",
            )
        } else if distance < -TOUCH {
            let sunk = unit.show(-distance);
            (
                codes::JOINT_OVERLAPS,
                format!("`{one}` goes {sunk} into `{other}`, and a butt joint only touches"),
                "shorten it, or use a housing, groove or rebate",
            )
        } else {
            (
                codes::JOINT_APART,
                format!("`{one}` and `{other}` meet only along a line"),
                "move one of them so that they share a surface",
            )
        };
        let finding = Finding::error(code, self.span, message);
        self.context.find(finding.fix(fix));
    }

    /// A meeting of parts without places, from an edge of one and a strip of the other's face.
    fn described(&self, keys: &Common) -> Option<Meeting> {
        let Some((place, edge, from)) = keys
            .described
            .and_then(|keys| Some((keys, keys.edge?, keys.from.as_ref()?)))
        else {
            let (one, other) = (&self.part.part.id, &self.to.part.id);
            let message = format!("it is not known where `{one}` and `{other}` meet");
            self.context.find(
                Finding::error(codes::JOINT_WITHOUT_PLACE, self.span, message)
                    .fix("give both a `place:`, or give the joint `edge:`, `face:` and `from:`"),
            );
            return None;
        };
        let (of, distance) = from
            .first()
            .map(|(edge, distance)| (edge.value, *distance))?;
        let (own, other) = (self.part.part, self.to.part);
        let depth = match keys.depth {
            None if self.housed => {
                let message = format!(
                    "it is not known how far `{}` goes into `{}`",
                    own.id, other.id
                );
                self.context.find(
                    Finding::error(codes::JOINT_WITHOUT_PLACE, self.span, message)
                        .fix("give both a `place:`, or give the joint `depth:`"),
                );
                return None;
            }
            depth => depth.unwrap_or(0.0),
        };
        Some(stood_on(own, edge, place, (of, distance), depth, other))
    }
}

/// A part that stands with an edge on, or `depth` deep in, the face of another one, which lies at 0,0.
fn stood_on(
    own: &Part,
    edge: Edge,
    place: &Described,
    (of, distance): (Edge, f64),
    depth: f64,
    other: &Part,
) -> Meeting {
    let size = [own.width, own.height, own.thickness()];
    let other_size = [other.width, other.height, other.thickness()];
    // The part stands on the face: its edge toward it, its thickness away from the edge that is measured from.
    let along = if of.is_upright() {
        Direction::Up
    } else {
        Direction::Right
    };
    let across = if edge.is_upright() {
        own.width
    } else {
        own.height
    };
    let (out, z) = match place.face {
        Face::Front => (Direction::Front, -depth),
        Face::Back => (Direction::Back, -other.thickness() + depth - across),
    };
    let turned = |direction: Direction| direction.mirrored(direction.axis());
    let (width, height) = match edge {
        Edge::Left => (out, along),
        Edge::Right => (turned(out), along),
        Edge::Bottom => (along, out),
        Edge::Top => (along, turned(out)),
    };
    let mut at = [0.0, 0.0, z];
    at[along.axis()] = place.start;
    at[1 - along.axis()] = match of {
        Edge::Left | Edge::Bottom => distance,
        Edge::Right => other.width - distance - size[2],
        Edge::Top => other.height - distance - size[2],
    };
    Meeting {
        part: Body::new(Placement { at, width, height }, size, false),
        to: Body::of_axes(
            [0.0; 3],
            Direction::Right,
            Direction::Up,
            Direction::Front,
            other_size,
        ),
        part_piece: 0,
        to_piece: 0,
    }
}
