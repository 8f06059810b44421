//! Names of faces and edges that say another direction than the place.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;
use jigless_model::side::{Edge, Face};
use jigless_model::whole::{Direction, Side};

use crate::report::Owner;
use crate::solid::Solid;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("label-off-place"),
    name: "a face or edge whose name says another direction than its place",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "names under `faces` and `edges` that say a direction (upper face, underside, front edge, back edge, floor, \
        toward the wall and the like), against where the part's place turns them",
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
            "bottom face",
            "floor",
            "downward",
        ],
    ),
    (
        Direction::Front,
        &[
            "front edge",
            "front face",
            "toward the room",
            "toward the viewer",
        ],
    ),
    (
        Direction::Back,
        &["back edge", "back face", "wall", "toward the wall"],
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
            let Some(said) = said(name) else { continue };
            let looks = looks(solid, side);
            if looks == said {
                continue;
            }
            let finding = report
                .finding(
                    part.span,
                    format!(
                        "the {} of `{}` is called `{name}`, and it looks {}",
                        side.describe(),
                        part.id,
                        in_words(looks)
                    ),
                )
                .fix(format!(
                    "turn the part over in its place, or call it for where it looks: {}",
                    in_words(looks)
                ));
            report.add(&[Owner::Part(part)], finding);
            // A part that is turned over has all of its names wrong.
            break;
        }
    }
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
