//! Where two parts meet.

use super::Common;
use super::keys::{Described, Work};
use crate::diag::Finding;
use crate::plan::Part;
use crate::resolve::Context;
use crate::side::{Edge, Face};
use crate::source::Span;
use crate::whole::{Body, Box3, Direction, Placement};

/// Lengths that differ by less are meant to be the same, in millimetres: far below what anyone can cut, and above what
/// sums of lengths lose.
pub(super) const TOUCH: f64 = 1e-3;

/// One of the two parts of a joint.
#[derive(Debug, Clone, Copy)]
pub(super) struct Member<'a> {
    pub(super) part: &'a Part,
}

impl Member<'_> {
    /// The part that carries the features: of a handed pair the first.
    pub(super) fn carrier(&self) -> &str {
        match &self.part.pair {
            Some(pair) if pair.mirrored => &pair.other,
            _ => &self.part.id,
        }
    }

    /// What `only` says of work on this member alone.
    pub(super) fn only(&self) -> Option<&str> {
        self.part.pair.as_ref().map(|_| self.part.id.as_str())
    }
}

/// Two pieces where they meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meeting {
    /// Body of the part that comes.
    pub part: Body,
    /// Body of the part that takes it.
    pub to: Body,
    /// Number of the piece that comes, from 0.
    pub part_piece: usize,
    /// Number of the piece that takes it, from 0.
    pub to_piece: usize,
}

impl Meeting {
    /// What both boxes have in common: flat where they only touch.
    pub fn common(&self) -> Box3 {
        self.part.bounds().common(self.to.bounds())
    }

    /// The direction from the part to the other one, where they touch with a side each.
    pub(super) fn touching(&self) -> Option<Direction> {
        let common = self.common();
        let flat = |axis: usize| common.size(axis).abs() <= TOUCH;
        let axis = (0..3).find(|axis| flat(*axis))?;
        if (0..3).any(|other| other != axis && common.size(other) <= TOUCH) {
            return None;
        }
        let (part, to) = (self.part.bounds(), self.to.bounds());
        let ahead = (part.max[axis] - to.min[axis]).abs() <= TOUCH;
        Some(Direction::along(axis, if ahead { 1.0 } else { -1.0 }))
    }
}

/// Two parts whose meetings are looked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Seeking<'a> {
    pub(super) context: Context<'a>,
    /// Where the plan joins them.
    pub(super) span: Span,
    /// Whether one goes into the other.
    pub(super) captures: bool,
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
        let captures = self.captures;
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
                if sunk && captures || !captures && !sunk && meeting.touching().is_some() {
                    found.push(meeting);
                }
            }
        }
        if found.is_empty() {
            self.tell_apart(&bodies, &others);
            return None;
        }
        Some((found, true))
    }

    fn tell_apart(&self, bodies: &[Body], others: &[Body]) {
        let unit = self.context.unit();
        let distance = bodies
            .iter()
            .flat_map(|a| others.iter().map(|b| a.bounds().apart(b.bounds())))
            .fold(f64::MAX, f64::min);
        let (one, other) = (&self.part.part.id, &self.to.part.id);
        let (code, message, fix) = if distance > TOUCH {
            let apart = unit.show(distance);
            (
                "joint-apart",
                format!("`{one}` and `{other}` do not meet: they are {apart} apart"),
                "move or lengthen one of them",
            )
        } else if self.captures {
            (
                "joint-not-sunk",
                format!("`{one}` only touches `{other}`, and this joint needs it to go in"),
                "lengthen it by the depth of the cut, or use a butt joint",
            )
        } else if distance < -TOUCH {
            let sunk = unit.show(-distance);
            (
                "joint-overlaps",
                format!("`{one}` goes {sunk} into `{other}`, and a butt joint only touches"),
                "shorten it, or use a housing, groove or rebate",
            )
        } else {
            (
                "joint-apart",
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
                Finding::error("joint-without-place", self.span, message)
                    .fix("give both a `place:`, or give the joint `edge:`, `face:` and `from:`"),
            );
            return None;
        };
        let (of, distance) = from
            .first()
            .map(|(edge, distance)| (edge.value, *distance))?;
        let (own, other) = (self.part.part, self.to.part);
        let depth = match keys.depth {
            None if self.captures => {
                let message = format!(
                    "it is not known how far `{}` goes into `{}`",
                    own.id, other.id
                );
                self.context.find(
                    Finding::error("joint-without-place", self.span, message)
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
