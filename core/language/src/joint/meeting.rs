//! Where two parts meet.

use jigless_model::diag::Finding;
use jigless_model::joint::{Meeting, TOUCH};
use jigless_model::plan::Part;
use jigless_model::side::{Edge, Face};
use jigless_model::whole::{Body, Direction, Placement};

use crate::codes;
use crate::resolve::{Fields, read_edge_distances};

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

/// Every meeting of two parts, and whether it is known from places.
pub(super) fn meetings(
    fields: &Fields,
    captures: bool,
    part: Member,
    to: Member,
    given: bool,
) -> Option<(Vec<Meeting>, bool)> {
    let (bodies, others) = (part.part.bodies(), to.part.bodies());
    if bodies.is_empty() || others.is_empty() {
        if given {
            return Some((Vec::new(), false));
        }
        return described(fields, captures, part, to).map(|meeting| (vec![meeting], false));
    }
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
        tell_apart(fields, captures, part, to, &bodies, &others);
        return None;
    }
    Some((found, true))
}

fn tell_apart(
    fields: &Fields,
    captures: bool,
    part: Member,
    to: Member,
    bodies: &[Body],
    others: &[Body],
) {
    let context = fields.context();
    let unit = context.names.unit();
    let distance = bodies
        .iter()
        .flat_map(|a| others.iter().map(|b| a.bounds().apart(b.bounds())))
        .fold(f64::MAX, f64::min);
    let (one, other) = (&part.part.id, &to.part.id);
    let finding = if distance > TOUCH {
        Finding::error(
            codes::JOINT_APART,
            fields.span,
            format!(
                "`{one}` and `{other}` do not meet: they are {} apart",
                unit.show(distance)
            ),
        )
        .fix("move or lengthen one of them")
    } else if captures {
        Finding::error(
            codes::JOINT_NOT_SUNK,
            fields.span,
            format!("`{one}` only touches `{other}`, and this joint needs it to go in"),
        )
        .fix("lengthen it by the depth of the cut, or use a butt joint")
    } else if distance < -TOUCH {
        Finding::error(
            codes::JOINT_OVERLAPS,
            fields.span,
            format!(
                "`{one}` goes {} into `{other}`, and a butt joint only touches",
                unit.show(-distance)
            ),
        )
        .fix("shorten it, or use a housing, groove or rebate")
    } else {
        Finding::error(
            codes::JOINT_APART,
            fields.span,
            format!("`{one}` and `{other}` meet only along a line"),
        )
        .fix("move one of them so that they share a surface")
    };
    context.find(finding);
}

/// A meeting of parts without places, from an edge of one and a strip of the other's face.
fn described(fields: &Fields, captures: bool, part: Member, to: Member) -> Option<Meeting> {
    let declared = |key: &str| fields.has(key);
    if !declared("edge") || !declared("from") {
        fields.context().find(
            Finding::error(
                codes::JOINT_WITHOUT_PLACE,
                fields.span,
                format!(
                    "it is not known where `{}` and `{}` meet",
                    part.part.id, to.part.id
                ),
            )
            .fix("give both a `place:`, or give the joint `edge:`, `face:` and `from:`"),
        );
        return None;
    }
    let edge = fields.edge("edge");
    let face = fields.face("face");
    let from = fields
        .node("from")
        .and_then(|node| read_edge_distances(fields.context(), node));
    let start = fields.length("start");
    let depth = if captures {
        fields.length("depth")?.value
    } else {
        0.0
    };
    let (edge, face, from, start) = (edge?.value, face?.value, from?, start?.value);
    let (of, distance) = *from.first().map(|(edge, d)| (edge.value, *d)).as_ref()?;
    let own = part.part;
    let size = [own.width, own.height, own.thickness()];
    let other = to.part;
    let other_size = [other.width, other.height, other.thickness()];
    let to_body = Body::of_axes(
        [0.0; 3],
        Direction::Right,
        Direction::Up,
        Direction::Front,
        other_size,
    );
    // The part stands on the face: its edge toward it, its thickness away from the edge that is measured from.
    let out = if face == Face::Front {
        Direction::Front
    } else {
        Direction::Back
    };
    let along = if of.is_upright() {
        Direction::Up
    } else {
        Direction::Right
    };
    let turned = |direction: Direction| direction.mirrored(direction.axis());
    let (x, y) = match edge {
        Edge::Left => (out, along),
        Edge::Right => (turned(out), along),
        Edge::Bottom => (along, out),
        Edge::Top => (along, turned(out)),
    };
    let run = own.edge_length(edge);
    let across = if edge.is_upright() {
        own.width
    } else {
        own.height
    };
    let mut at = [0.0; 3];
    at[along.axis()] = start;
    at[1 - along.axis()] = match of {
        Edge::Left | Edge::Bottom => distance,
        Edge::Right => other.width - distance - size[2],
        Edge::Top => other.height - distance - size[2],
    };
    at[2] = if face == Face::Front {
        -depth
    } else {
        -other.thickness() + depth - across
    };
    let body = Body::new(
        Placement {
            at,
            width: x,
            height: y,
        },
        size,
        false,
    );
    debug_assert!((body.bounds().size(along.axis()) - run).abs() < TOUCH);
    Some(Meeting {
        part: body,
        to: to_body,
        part_piece: 0,
        to_piece: 0,
    })
}
