//! Names of faces and edges from the place of a part, where the plan gives none.

use std::collections::BTreeMap;

use jigless_model::plan::Part;
use jigless_model::side::{Edge, Face};
use jigless_model::whole::{Body, Box3, Direction, Side};

/// Sides that are no farther from the outermost are outermost, in millimetres: what a saw leaves.
const OUTERMOST: f64 = 0.2;

/// Names the faces and edges of every part that has places and no names of its own, where all of its pieces agree.
pub(super) fn name_sides(parts: &mut [Part]) {
    let hulls = hulls(parts);
    for part in parts {
        let Some(hull) = hulls.get(&part.group).copied() else {
            continue;
        };
        let bodies = part.bodies();
        if bodies.is_empty() {
            continue;
        }
        let stands = part.group.is_none();
        let name = |side: Side| {
            let mut names = bodies.iter().map(|body| name_of(body, side, hull, stands));
            let first = names.next()??;
            names
                .all(|name| name == Some(first))
                .then(|| first.to_owned())
        };
        if part.face_labels.is_empty() {
            let named = Face::ALL.map(|face| Some((face, name(Side::Face(face))?)));
            part.face_labels = named.into_iter().flatten().collect();
        }
        if part.edge_labels.is_empty() {
            let mirrored = part.is_mirrored();
            let named = Edge::ALL.map(|edge| {
                let own = if mirrored { edge.mirrored() } else { edge };
                Some((edge, name(Side::Edge(own))?))
            });
            part.edge_labels = named.into_iter().flatten().collect();
        }
    }
}

/// The box around what is put together by itself, by its group: a drawer, and the whole without such groups.
fn hulls(parts: &[Part]) -> BTreeMap<Option<String>, Box3> {
    let mut hulls: BTreeMap<Option<String>, Box3> = BTreeMap::new();
    for part in parts {
        for body in part.bodies() {
            let hull = hulls.entry(part.group.clone());
            let hull = hull.or_insert_with(|| body.bounds());
            *hull = hull.union(body.bounds());
        }
    }
    hulls
}

/// What a side of a piece is called by where it looks; what `stands` by itself has the floor below it, at 0, and a wall
/// behind. `front face` and `back face` are words of the part itself, wherever it stands, and no names.
fn name_of(body: &Body, side: Side, hull: Box3, stands: bool) -> Option<&'static str> {
    let looks = body.looks(side);
    let axis = looks.axis();
    let own = body.bounds();
    let high = (hull.max[axis] - own.max[axis]).abs() <= OUTERMOST;
    let low = (own.min[axis] - hull.min[axis]).abs() <= OUTERMOST;
    let face = matches!(side, Side::Face(_));
    let one_of = |of_face, of_edge| Some(if face { of_face } else { of_edge });
    match looks {
        Direction::Up => one_of("upper face", "upper edge"),
        Direction::Down if stands && own.min[1].abs() <= OUTERMOST => Some("toward the floor"),
        Direction::Down => one_of("underside", "lower edge"),
        Direction::Front => one_of("toward the front", "front edge"),
        Direction::Back if stands && face && own.min[2].abs() <= OUTERMOST => {
            Some("toward the wall")
        }
        Direction::Back => one_of("toward the back", "back edge"),
        Direction::Left | Direction::Right if high == low => None,
        Direction::Right => Some(if high { "outside" } else { "inside" }),
        Direction::Left => Some(if low { "outside" } else { "inside" }),
    }
}
