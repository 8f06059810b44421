//! Whether the whole fits the room that it is made for, and opens in it.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;
use jigless_model::side::Edge;
use jigless_model::source::Spanned;
use jigless_model::space::Space;
use jigless_model::whole::{Box3, Motion};

use crate::report::Owner;
use crate::solid::Solid;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static TOO_SMALL: CheckKind = CheckKind {
    code: Code::declare("space-too-small"),
    name: "a whole that does not fit the room that it is made for",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "the box around all parts that have places, doors and drawers closed, against `space`",
    limit: None,
    formula: None,
    source: &[Source::Elementary],
    explanation: "What is larger than its room by a millimetre does not go in, and walls are never as straight as a drawing: \
        leave some play.",
    example: "space: {width: 795, height: 2400, depth: 700}   # and a cabinet 800 wide",
    run: too_small,
};

pub(crate) static DOOR: CheckKind = CheckKind {
    code: Code::declare("space-stops-door"),
    name: "a door that strikes the room that it opens in",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "the corner of each door on its way to a right angle, against the wall beside it and against what stands \
        opposite, as `space` says",
    limit: None,
    formula: Some(
        "depth < back of the door + diagonal of the door; gap at its free edge < diagonal - width",
    ),
    source: &[Source::Note(
        "elementary; knobs and what lets a door open further than to a right angle are not counted",
    )],
    explanation: "A door that strikes a wall opens half, and drawers behind it stay in.",
    example: "space: {width: 900, height: 2400, depth: 700}   # doors 400 wide on a cabinet 400 deep",
    run: doors,
};

pub(crate) static DRAWER: CheckKind = CheckKind {
    code: Code::declare("space-stops-drawer"),
    name: "a drawer that cannot come out in the room that it is in",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "the way of each drawer to the front by its own length, against the depth that `space` gives",
    limit: None,
    formula: Some("depth < front of the drawer + its length"),
    source: &[Source::Elementary],
    explanation: "A drawer that comes out half gives half of what is in it.",
    example: "space: {width: 900, height: 2400, depth: 700}   # drawers 350 long in a cabinet 400 deep",
    run: drawers,
};

/// The room of a plan and its box, where the plan has one and parts have places.
fn room<'a>(scene: &Scene<'a>) -> Option<(&'a Space, Box3, Box3)> {
    let space = scene.plan.space.as_ref()?;
    let whole = scene.assembled.bounds?;
    Some((space, whole, space.around(whole)))
}

fn too_small(scene: &Scene, report: &mut Report) {
    let Some((space, whole, room)) = room(scene) else {
        return;
    };
    for (axis, what, size) in [
        (0, "wide", &space.width),
        (1, "high", &space.height),
        (2, "deep", &space.depth),
    ] {
        let (own, has) = (whole.size(axis), size.value);
        let beyond = (whole.max[axis] - room.max[axis]).max(room.min[axis] - whole.min[axis]);
        if beyond <= LENGTH_TOLERANCE {
            continue;
        }
        let (message, fix) = if own > has {
            (
                format!(
                    "the whole is {} {what}, and its space {}",
                    report.show(own),
                    report.show(has)
                ),
                format!(
                    "make it {} smaller, or correct `space`",
                    report.show(own - has)
                ),
            )
        } else {
            (
                format!("the whole stands {} into the wall", report.show(beyond)),
                format!("give a `left` between 0 and {}", report.show(has - own)),
            )
        };
        let finding = report
            .finding(size.span, message)
            .figures(report.show(own), format!("at most {}", report.show(has)))
            .fix(fix);
        report.add(&[], finding);
    }
}

fn doors(scene: &Scene, report: &mut Report) {
    let Some((space, _, room)) = room(scene) else {
        return;
    };
    for door in &scene.assembled.solids {
        let motion = door.workpiece.part.motion;
        let Some(hinges) = motion.and_then(Motion::swings_about) else {
            continue;
        };
        let bounds = door.bounds;
        let (width, thick) = (bounds.size(0), bounds.size(2));
        let diagonal = width.hypot(thick);
        stopped(
            report,
            door,
            &space.depth,
            "opens no further than what stands opposite lets it",
            bounds.min[2] + diagonal - room.max[2],
        );
        let gap = if hinges == Edge::Left {
            room.max[0] - bounds.max[0]
        } else {
            bounds.min[0] - room.min[0]
        };
        stopped(
            report,
            door,
            &space.width,
            "strikes the wall beside it when it opens",
            diagonal - width - gap,
        );
    }
}

fn drawers(scene: &Scene, report: &mut Report) {
    let Some((space, _, room)) = room(scene) else {
        return;
    };
    let solids = &scene.assembled.solids;
    for front in solids {
        let part = &front.workpiece.part;
        if part.motion != Some(Motion::Slides) {
            continue;
        }
        // All that moves with it: how long the drawer is, and how far its front stands out.
        let with_it = solids.iter().filter(|other| {
            let other = &other.workpiece.part;
            other.id == part.id || part.group.is_some() && other.group == part.group
        });
        let (length, foremost) = with_it.fold((0.0_f64, f64::MIN), |(length, foremost), own| {
            (
                length.max(own.bounds.size(2)),
                foremost.max(own.bounds.max[2]),
            )
        });
        stopped(
            report,
            front,
            &space.depth,
            "cannot come out by its length",
            foremost + length - room.max[2],
        );
    }
}

/// Reports what a wall stops, where it does.
fn stopped(report: &mut Report, own: &Solid, size: &Spanned<f64>, how: &str, beyond: f64) {
    if beyond <= LENGTH_TOLERANCE {
        return;
    }
    let part = &own.workpiece.part;
    let (beyond, has) = (report.show(beyond), report.show(size.value));
    let finding = report
        .finding(
            size.span,
            format!("`{}` {how}: {beyond} of room lacks", part.id),
        )
        .label(part.span, "what is stopped")
        .figures(has, format!("{beyond} more"))
        .fix(format!("give it {beyond} more of room, or make it smaller"));
    report.add(&[Owner::Part(part)], finding);
}
