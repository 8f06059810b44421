//! Work on a face that another part stands on.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Point};
use jigless_model::hardware::FittingKind;
use jigless_model::operation::{AreaKind, Depth, Mouth, Operation, Work};
use jigless_model::plan::Part;
use jigless_model::provenance::Source;
use jigless_model::side::Face;
use jigless_model::source::Span;
use jigless_model::whole::Box3;

use super::hinge_arms::{self, OFF};
use crate::assembled::grown;
use crate::driven::axis_of;
use crate::held::TOUCHING;
use crate::report::Owner;
use crate::scene::name_of;
use crate::solid::{Solid, distance};
use crate::{CheckKind, Group, Report, Scene};

/// Holes right through that are no wider may be for screws into the part that stands on them, in millimetres.
const SCREW_HOLE: f64 = 12.0;
/// How far within the rim of a hole another part must reach to cover it, in millimetres.
const RIM: f64 = 0.005;
/// Axes that are no farther apart are one, in millimetres.
const ONE_AXIS: f64 = 1.0;

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("work-covered"),
    name: "work on a face where another part stands",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "holes, recesses, openings and the mouths of pockets against the footprint of every part that lies on the \
        same face; holes that go on in that part, holes right through for screws into it, flush heads, and holes of screws that are \
        driven before that part comes (by the order of assembly) are left out; and the way of a hinge from the edge at its door \
        to its plate",
    limit: None,
    formula: None,
    source: &[Source::Note(
        "elementary; holes right through up to 12 mm wide that lie wholly behind the part are taken for screw holes",
    )],
    explanation: "A hinge plate, a runner or a pin cannot go where a rail or divider stands, and a screw whose pocket is \
        covered cannot be driven.",
    example: "- hinge_plates: {edge: left, at: [30], setback: 37}   # behind a rail 100 high",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let solids = &scene.assembled.solids;
    for (number, solid) in solids.iter().enumerate() {
        if !has_work(solid) {
            continue;
        }
        let mut others = scene.assembled.neighbours(number, TOUCHING);
        others.retain(|other| !opens(solid, &solids[*other]));
        hinge_arms::run(scene, number, &others, report);
        for other in others {
            let with = &solids[other];
            let within = footprint(solid, with);
            let piece = scene.part_of(number);
            for void in piece.voids_in(within) {
                if let Some(face) = covered(scene, number, void.operation, other) {
                    tell(scene, (number, other), void.operation, face, report);
                }
            }
            for operation in openings(solid, within) {
                if let Some(face) = covered(scene, number, operation, other) {
                    tell(scene, (number, other), operation, face, report);
                }
            }
        }
    }
}

/// Whether one of the two moves away from the other: a door from the side that it closes.
fn opens(one: &Solid, other: &Solid) -> bool {
    let (one, other) = (&one.workpiece.part, &other.workpiece.part);
    let together = one.group.is_some() && one.group == other.group;
    (one.motion.is_some() || other.motion.is_some()) && !together
}

fn has_work(solid: &Solid) -> bool {
    let mut operations = solid.workpiece.operations.iter();
    operations.any(|operation| operation.origin.feature.is_some())
}

/// What one piece covers of another, as seen on its front.
fn footprint(solid: &Solid, with: &Solid) -> Bounds {
    let common: Box3 = grown(solid.bounds, TOUCHING).common(with.bounds);
    let (a, _) = solid.own(common.min);
    let (b, _) = solid.own(common.max);
    Bounds::new(a, b)
}

/// The openings of a piece that one feature alone makes.
fn openings<'s>(solid: &'s Solid, within: Bounds) -> impl Iterator<Item = &'s Operation> {
    solid
        .workpiece
        .operations
        .iter()
        .filter(move |operation| match &operation.work {
            Work::CutContour(cut) => {
                operation.origin.feature.is_some()
                    && cut
                        .path
                        .bounds()
                        .is_some_and(|bounds| bounds.overlaps(within, LENGTH_TOLERANCE))
            }
            _ => false,
        })
}

/// The face on which another piece covers work, if it does.
fn covered(scene: &Scene, number: usize, operation: &Operation, other: usize) -> Option<Face> {
    let (solid, with) = (
        &scene.assembled.solids[number],
        &scene.assembled.solids[other],
    );
    let sunk = solid.bounds.overlaps(with.bounds, OFF);
    let over = |face: Face, at: Point| {
        let depth = match face {
            Face::Front => -OFF,
            Face::Back => solid.workpiece.part.thickness() + OFF,
        };
        with.contains(solid.whole(at, depth))
    };
    match &operation.work {
        Work::Drill(drill) => {
            let faces: &[Face] = match drill.depth {
                Depth::Through => &Face::ALL,
                Depth::Blind(_) => std::slice::from_ref(&drill.face),
            };
            let bolted = has_bolt(scene, number, operation);
            let face = faces.iter().copied().find(|face| {
                let mouth = drill.mouth.filter(|_| *face == drill.face);
                let radius = mouth.map_or(drill.diameter, Mouth::diameter) / 2.0;
                let rim = (0..8).map(|eighth| {
                    let angle = f64::from(eighth) * std::f64::consts::FRAC_PI_4;
                    drill.centre + Point::polar((radius - RIM).max(0.0), angle)
                });
                let places: Vec<Point> = std::iter::once(drill.centre).chain(rim).collect();
                let hidden = places.iter().filter(|at| over(*face, **at)).count();
                let through = drill.depth == Depth::Through;
                let whole = hidden == places.len();
                // A flush head may lie under another part, and so may the far end of a hole for a screw into it; a nut may
                // not.
                let may_lie = if bolted {
                    mouth.is_some()
                } else {
                    through && whole && mouth.is_none() && drill.diameter <= SCREW_HOLE
                };
                hidden > 0 && !may_lie
            })?;
            let free = goes_on(scene, number, operation, other)
                || comes_later(scene, number, operation, other);
            (!free).then_some(face)
        }
        Work::AngledBore(bore) => {
            let out = (bore.entry - bore.exit).unit() * (bore.mouth_half_length() * 0.8);
            let places = [bore.entry, bore.entry + out];
            let hidden = places.iter().any(|at| over(bore.face, *at));
            (hidden && !comes_later(scene, number, operation, other)).then_some(bore.face)
        }
        Work::MillArea(area) if area.kind == AreaKind::Recess && !sunk => {
            let places = area.outline.flattened(0.1);
            let centre = area.outline.bounds().map(Bounds::centre);
            let mut places = places.iter().chain(&centre);
            places
                .any(|at| over(area.face, inward(*at, centre)))
                .then_some(area.face)
        }
        Work::CutContour(cut) if !sunk => {
            let places = cut.path.flattened(0.1);
            let centre = cut.path.bounds().map(Bounds::centre);
            Face::ALL.into_iter().find(|face| {
                let mut places = places.iter().chain(&centre);
                places.any(|at| over(*face, inward(*at, centre)))
            })
        }
        _ => None,
    }
}

/// Whether the feature of a hole takes bolts.
fn has_bolt(scene: &Scene, number: usize, operation: &Operation) -> bool {
    let part = &scene.assembled.solids[number].workpiece.part;
    let feature = operation
        .origin
        .feature
        .and_then(|index| part.features.get(index));
    feature.is_some_and(|feature| {
        let mut fittings = feature.work.fittings.iter();
        fittings.any(|fitting| fitting.kind == FittingKind::Bolt)
    })
}

/// Whether the piece that covers a hole is put in place after what the hole is for: the screw that goes through it into
/// another piece.
fn comes_later(scene: &Scene, number: usize, operation: &Operation, cover: usize) -> bool {
    let solids = &scene.assembled.solids;
    let part = &solids[number].workpiece.part;
    let Some(feature) = operation.origin.feature else {
        return false;
    };
    let mut held: Vec<&str> = Vec::new();
    for driven in scene.driven_of(part, feature) {
        let stretches = scene.assembled.stretches(driven.head, driven.tip());
        let others = stretches
            .iter()
            .map(|stretch| &solids[stretch.solid].workpiece.part);
        held.extend(
            others
                .map(|other| other.id.as_str())
                .filter(|id| *id != part.id),
        );
    }
    let step = |id: &str| scene.step_of(id);
    let cover = &solids[cover].workpiece.part.id;
    let last = held.iter().filter_map(|id| step(id)).max();
    match (last, step(&part.id), step(cover)) {
        (Some(last), Some(own), Some(cover)) => cover > last.max(own),
        _ => false,
    }
}

/// A point a little nearer to the middle.
fn inward(at: Point, centre: Option<Point>) -> Point {
    centre.map_or(at, |centre| {
        let run = at.distance(centre);
        if run > 0.3 {
            at.toward(centre, 0.3 / run)
        } else {
            at
        }
    })
}

/// Whether a hole goes on in the piece that stands on it, by a hole there or by a screw of its own.
fn goes_on(scene: &Scene, number: usize, operation: &Operation, other: usize) -> bool {
    let (solid, with) = (
        &scene.assembled.solids[number],
        &scene.assembled.solids[other],
    );
    let part = &solid.workpiece.part;
    let Some((mouth, bottom, _, through)) = axis_of(operation, &part.frame()) else {
        return false;
    };
    let ends = [mouth, bottom].map(|(at, depth)| solid.whole(at, depth));
    let frame = with.workpiece.part.frame();
    let piece = scene.part_of(other);
    let on = ends.map(|end| with.own(end).0);
    let around = Bounds::new(on[0], on[1]).grown(ONE_AXIS);
    let by_hole = piece.voids_in(around).iter().any(|void| {
        axis_of(void.operation, &frame).is_some_and(|(at, to, ..)| {
            let own = [at, to].map(|(at, depth)| with.whole(at, depth));
            own.iter()
                .any(|a| ends.iter().any(|b| distance(*a, *b) <= ONE_AXIS))
                && in_line(ends, own)
        })
    });
    let feature = operation.origin.feature;
    by_hole
        || through
            && feature.is_some_and(|feature| {
                scene.driven_of(part, feature).any(|driven| {
                    std::ptr::eq(driven.operation, operation)
                        && ends
                            .iter()
                            .any(|end| distance(driven.head, *end) <= driven.sunk + ONE_AXIS)
                        && scene
                            .assembled
                            .stretches(driven.head, driven.tip())
                            .iter()
                            .any(|stretch| stretch.solid == other)
                })
            })
}

/// Whether two holes lie along one line.
fn in_line(one: [[f64; 3]; 2], other: [[f64; 3]; 2]) -> bool {
    let run = [0, 1, 2].map(|i| one[1][i] - one[0][i]);
    let length = distance(one[0], one[1]);
    length > 0.0
        && other.iter().all(|point| {
            let from = [0, 1, 2].map(|i| point[i] - one[0][i]);
            let along: f64 = (0..3).map(|i| from[i] * run[i]).sum::<f64>() / length;
            let foot = [0, 1, 2].map(|i| one[0][i] + run[i] / length * along);
            distance(*point, foot) <= ONE_AXIS
        })
}

/// Where the plan asks for the feature that an operation is of.
fn feature_span(part: &Part, operation: &Operation) -> Span {
    let feature = operation
        .origin
        .feature
        .and_then(|index| part.features.get(index));
    feature.map_or(operation.origin.span, |feature| feature.span)
}

fn tell(
    scene: &Scene,
    (number, other): (usize, usize),
    operation: &Operation,
    face: Face,
    report: &mut Report,
) {
    let (piece, with) = (scene.part_of(number), scene.part_of(other));
    let (part, cover) = (piece.part(), with.part());
    let finding = report
        .finding(
            feature_span(part, operation),
            format!(
                "`{}`: {} on the {} face is where `{}` stands",
                part.id,
                match &operation.work {
                    Work::CutContour(_) => operation
                        .origin
                        .label
                        .clone()
                        .unwrap_or_else(|| operation.origin.key.to_owned()),
                    _ => name_of(operation),
                },
                face.name(),
                cover.id
            ),
        )
        .label(cover.span, "the part that stands there")
        .fix(format!(
            "move the work clear of a strip {} wide, or move the part",
            report.show(
                footprint(
                    &scene.assembled.solids[number],
                    &scene.assembled.solids[other]
                )
                .width()
                .min(
                    footprint(
                        &scene.assembled.solids[number],
                        &scene.assembled.solids[other]
                    )
                    .height()
                )
            )
        ));
    report.add(
        &[
            Owner::Feature(part, operation.origin.feature),
            Owner::Part(cover),
        ],
        finding,
    );
}
