//! Names of faces and edges that say another direction than the place.

use std::collections::BTreeMap;

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;
use jigless_model::side::{Edge, Face};
use jigless_model::whole::{Box3, Direction, Side};

use crate::held::TOUCHING;
use crate::report::Owner;
use crate::solid::Solid;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("label-off-place"),
    name: "a face or edge whose name says another direction than its place",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "names under `faces` and `edges` that say a direction (upper face, underside, front edge, back edge, floor, \
        toward the wall and the like), against where the part's place turns them; `inside` and `outside` against which of \
        two sides is outermost of the whole, or of the drawer that it is part of",
    limit: None,
    formula: None,
    source: &[Source::Elementary],
    explanation: "Whoever works from the template trusts what is printed on it. A shelf that its place turns upside down has \
        its pockets on top.",
    example: "shelf: {faces: {front: upper face}, place: {at: [18, 200, 0], width: left, height: back}}   # its front looks down",
    run,
};

/// Names that say a direction.
const NAMES: &[(Direction, &[&str])] = &[
    (
        Direction::Up,
        &[
            "up",
            "upper face",
            "upper side",
            "upper edge",
            "upper end",
            "top face",
            "upward",
        ],
    ),
    (
        Direction::Down,
        &[
            "down",
            "underside",
            "lower face",
            "lower side",
            "lower edge",
            "lower end",
            "bottom face",
            "floor",
            "toward the floor",
            "downward",
        ],
    ),
    (
        Direction::Front,
        &[
            "front",
            "front edge",
            "front face",
            "toward the front",
            "toward the room",
            "toward the viewer",
        ],
    ),
    (
        Direction::Back,
        &[
            "back",
            "back edge",
            "back face",
            "toward the back",
            "wall",
            "wall side",
            "toward the wall",
        ],
    ),
];

/// The direction that a name says, if it says one.
fn said(name: &str) -> Option<Direction> {
    let name = name.trim().to_lowercase();
    let says = |(_, names): &&(Direction, &[&str])| names.contains(&name.as_str());
    NAMES.iter().find(says).map(|(direction, _)| *direction)
}

/// Where something looks, in words.
const fn in_words(direction: Direction) -> &'static str {
    match direction {
        Direction::Up => "up",
        Direction::Down => "down",
        Direction::Front => "to the front",
        Direction::Back => "to the back",
        Direction::Left => "to the left",
        Direction::Right => "to the right",
    }
}

fn run(scene: &Scene, report: &mut Report) {
    let hulls = hulls(scene);
    for solid in &scene.assembled.solids {
        let part = &solid.workpiece.part;
        let faces = part
            .face_labels
            .iter()
            .map(|(face, name)| (Side::Face(*face), name));
        let edges = part
            .edge_labels
            .iter()
            .map(|(edge, name)| (Side::Edge(*edge), name));
        for (side, name) in faces.chain(edges) {
            let looks = looks(solid, side);
            let own = match said(name) {
                Some(said) if said != looks => in_words(looks),
                Some(_) => continue,
                None => match outside_or_in(solid, looks, hulls[&part.group.as_deref()]) {
                    Some(true) if names_inside(name) => "outside",
                    Some(false) if names_outside(name) => "inside",
                    _ => continue,
                },
            };
            let finding = report
                .finding(
                    part.span,
                    format!(
                        "`{}`: the {} is called `{name}`, and it looks {own}",
                        part.id,
                        side.describe(),
                    ),
                )
                .fix(format!(
                    "turn the part over in its place, or call it for where it looks: {own}"
                ));
            report.add(&[Owner::Part(part)], finding);
            // A part that is turned over has all of its names wrong.
            break;
        }
    }
}

fn names_inside(name: &str) -> bool {
    ["inside", "inner face", "inner side"].contains(&name.trim().to_lowercase().as_str())
}

fn names_outside(name: &str) -> bool {
    ["outside", "outer face", "outer side"].contains(&name.trim().to_lowercase().as_str())
}

/// The box around what is put together by itself, by its group: a drawer, and the whole without such groups.
fn hulls<'a>(scene: &Scene<'a>) -> BTreeMap<Option<&'a str>, Box3> {
    let mut hulls: BTreeMap<Option<&str>, Box3> = BTreeMap::new();
    for solid in &scene.assembled.solids {
        let group = solid.workpiece.part.group.as_deref();
        let hull = hulls.entry(group).or_insert(solid.bounds);
        *hull = hull.union(solid.bounds);
    }
    hulls
}

/// Whether a side of a piece that looks some way is outermost; not, where the opposite side is; nothing, where neither or
/// both are.
fn outside_or_in(solid: &Solid, looks: Direction, hull: Box3) -> Option<bool> {
    let axis = looks.axis();
    let own = solid.bounds;
    let high = (hull.max[axis] - own.max[axis]).abs() <= TOUCHING;
    let low = (own.min[axis] - hull.min[axis]).abs() <= TOUCHING;
    let toward_high = matches!(looks, Direction::Right | Direction::Up | Direction::Front);
    (high != low).then_some(high == toward_high)
}

/// Where a side of a piece looks, as its own work has it.
fn looks(solid: &Solid, side: Side) -> Direction {
    let part = &solid.workpiece.part;
    let side = match side {
        Side::Edge(edge @ (Edge::Left | Edge::Right)) if part.is_mirrored() => {
            Side::Edge(edge.mirrored())
        }
        Side::Face(Face::Front | Face::Back) | Side::Edge(_) => side,
    };
    solid.body().looks(side)
}
