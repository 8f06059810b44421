//! Doors that strike what is beside them.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::provenance::Source;
use jigless_model::side::Edge;
use jigless_model::whole::Motion;

use super::TOLERANCE;
use crate::assembled::Assembled;
use crate::report::Owner;
use crate::solid::Solid;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("door-strikes"),
    name: "a door that strikes what is beside it",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "the gap between a door that swings and what stands still beside its other edge",
    limit: None,
    formula: Some(
        "the corner of a door that turns about its hinge edge reaches out by the diagonal less the width",
    ),
    source: &[Source::Note(
        "elementary; a cup hinge moves the door out a little first, so the gap is on the safe side",
    )],
    explanation: "The inner corner of a door between walls swings out past the wall before it comes free.",
    example: "door: {fit: inset, gap: 0.1}   # a wide door of thick stock",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let assembled = &scene.assembled;
    for door in &assembled.solids {
        let motion = door.workpiece.part.motion;
        if let Some(edge) = motion.and_then(Motion::swings_about) {
            swings(door, edge, assembled, report);
        }
    }
}

fn swings(door: &Solid, edge: Edge, assembled: &Assembled, report: &mut Report) {
    let (width, thick) = (door.bounds.size(0), door.bounds.size(2));
    let needed = width.hypot(thick) - width;
    let mut beside = door.bounds;
    if edge == Edge::Left {
        (beside.min[0], beside.max[0]) = (beside.max[0], beside.max[0] + needed);
    } else {
        (beside.min[0], beside.max[0]) = (beside.min[0] - needed, beside.min[0]);
    }
    for other in assembled.near(beside) {
        let other = &assembled.solids[other];
        let part = &other.workpiece.part;
        if part.motion.is_some() || !beside.overlaps(other.bounds, TOLERANCE) {
            continue;
        }
        let own = &door.workpiece.part;
        let finding = report
            .finding(
                own.span,
                format!(
                    "`{}` strikes `{}` when it opens: it needs a gap of {}",
                    own.id,
                    part.id,
                    report.show(needed)
                ),
            )
            .label(part.span, "what it strikes")
            .fix(format!(
                "give it a gap of {} at the edge away from the hinges",
                report.show(needed)
            ));
        report.add(&[Owner::Part(own), Owner::Part(part)], finding);
    }
}
