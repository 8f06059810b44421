//! Doors with too little between them.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;
use jigless_model::usage::Usage;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("door-gap-small"),
    name: "doors side by side with less than the wanted gap",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "what is left of the room beside the doors, spread over the gaps between neighbours, against the \
        entry's `gap`",
    limit: None,
    formula: Some("(room - sum of widths) / (count - 1) < gap"),
    source: &[Source::Note(
        "2 mm where the entry gives none: common practice, no source",
    )],
    explanation: "Doors swell, sag a little and are never hung quite true; they rub where there is no gap.",
    example: "usage: - doors: {parts: [door-left, door-right], room: 800, gap: 2} # two of 399.5",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for entry in &scene.plan.usage {
        let Usage::Doors(doors) = &entry.what else {
            continue;
        };
        let neighbours = doors.parts.len().saturating_sub(1) as f64;
        let widths: f64 = doors
            .parts
            .iter()
            .filter_map(|name| scene.piece(&name.value))
            .map(|piece| piece.part().width)
            .sum();
        let left = doors.room.value - widths;
        let wanted = neighbours * doors.gap.value;
        if left < -LENGTH_TOLERANCE || left + LENGTH_TOLERANCE >= wanted {
            continue;
        }
        let finding = report
            .finding(
                doors.room.span,
                format!(
                    "the doors leave {} between neighbours; {} is wanted",
                    report.show(left / neighbours),
                    report.show(doors.gap.value)
                ),
            )
            .label(doors.gap.span, "the gap")
            .figures(
                report.show(left / neighbours),
                format!("at least {}", report.show(doors.gap.value)),
            )
            .fix(format!(
                "make each door {} narrower",
                report.show((wanted - left) / doors.parts.len() as f64)
            ));
        report.add(&[Owner::Usage(&entry.accepted)], finding);
    }
}
