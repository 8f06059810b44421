//! Units that are said to be fixed to the wall, with nothing that fixes them.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::hardware::FittingKind;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("anchor-missing"),
    name: "a unit that is said to be fixed to the wall, with no hardware that fixes it",
    group: Group::Safety,
    severity: Severity::Warning,
    measures: "an entry `freestanding` with `anchored: yes`, against the hardware of the plan: 1 wall anchor at least",
    limit: None,
    formula: None,
    source: &[Source::CommonPractice],
    explanation: "What is not on the list of hardware is not bought and not put in. Write `hardware: {what: wall anchor}` at \
        the holes for it, or `fittings` at the part that it holds. Which one your wall needs, a licensed builder knows.",
    example: "usage: - freestanding: {height: 900, anchored: yes}   # and no wall anchor anywhere",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let listed = scene.all_pieces().any(|piece| {
        let fittings = piece
            .workpiece
            .fittings
            .iter()
            .chain(&piece.part().fittings);
        fittings
            .clone()
            .any(|fitting| fitting.kind == FittingKind::WallAnchor)
    });
    for entry in &scene.plan.usage {
        let Usage::Freestanding(unit) = &entry.what else {
            continue;
        };
        if !unit.anchored || listed {
            continue;
        }
        let finding = report
            .finding(
                unit.height.span,
                format!(
                    "a unit {} high is said to be anchored, and no wall anchor is in the list of hardware",
                    report.show(unit.height.value)
                ),
            )
            .fix("write `hardware: {what: wall anchor}` at the holes for 2 or more of them");
        report.add(&[Owner::Usage(&entry.accepted)], finding);
    }
}
