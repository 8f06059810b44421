//! Doors that have no room beside each other.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("doors-collide"),
    name: "doors that together are wider than their room",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "the widths of doors side by side, against the room for all of them",
    limit: None,
    formula: Some("sum of widths > room"),
    source: &[Source::Elementary],
    explanation: "The doors hit each other when they close. Make them narrower by what is missing and by the gaps \
        between them.",
    example: "usage: - doors: {parts: [door-left, door-right], room: 800} # two of 402",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for entry in &scene.plan.usage {
        let Usage::Doors(doors) = &entry.what else {
            continue;
        };
        let widths: f64 = doors
            .parts
            .iter()
            .filter_map(|name| scene.piece(&name.value))
            .map(|piece| piece.part().width)
            .sum();
        let over = widths - doors.room.value;
        if over <= LENGTH_TOLERANCE {
            continue;
        }
        let count = doors.parts.len() as f64;
        let gaps = (count - 1.0) * doors.gap.value;
        let finding = report
            .finding(
                doors.room.span,
                format!(
                    "the doors are {} wide together, {} more than the room of {}",
                    report.show(widths),
                    report.show(over),
                    report.show(doors.room.value)
                ),
            )
            .fix(format!(
                "make each {} narrower, which leaves gaps of {}",
                report.show((over + gaps) / count),
                report.show(doors.gap.value)
            ));
        report.add(&[Owner::Usage(&entry.accepted)], finding);
    }
}
