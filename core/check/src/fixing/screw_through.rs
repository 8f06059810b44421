//! Screws whose point comes out.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::{Hold, hold};
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("screw-through"),
    name: "a screw whose point comes through",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "what a screw reaches beyond the part that it goes through, against the part that it holds to; a head \
        that is sunk reaches further by as much",
    limit: Some(Limit::length(1.0, "least wood in front of the point")),
    formula: Some(
        "length + depth of the counterbore - thickness of the first part > thickness of the second - limit",
    ),
    source: &[
        Source::Elementary,
        Source::Note(
            "the limit is common practice, no source. A flat head counts with the screw's whole length",
        ),
    ],
    explanation: "The point of a screw tears skin and cloth. Take a shorter screw, or drive it where more wood is \
        behind.",
    example: "- hole: {at: [50, 50], diameter: 4.5, depth: through, screw: {length: 40, size: 4 mm, into: side}} # \
        18 + 18 mm",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for (piece, feature, fact) in scene.facts() {
        let Fact::Screw(screw) = fact else {
            continue;
        };
        let Some(Hold {
            part, reach, room, ..
        }) = hold(scene, piece, feature, screw)
        else {
            continue;
        };
        let left = room - reach;
        if left + LENGTH_TOLERANCE >= limit {
            continue;
        }
        let message = if left < 0.0 {
            format!(
                "a screw of {} comes {} out of `{}`: it reaches {} in, and there is {}",
                report.show(screw.length.value),
                report.show(-left),
                part.id,
                report.show(reach),
                report.show(room)
            )
        } else {
            format!(
                "a screw of {} leaves {} of wood in front of its point in `{}`; {} is wanted",
                report.show(screw.length.value),
                report.show(left),
                part.id,
                report.show(limit)
            )
        };
        let finding = report
            .finding(screw.length.span, message)
            .label(part.stock.span, "the stock that it holds to")
            .figures(
                report.show(left),
                format!("at least {}", report.show(limit)),
            )
            .fix(format!(
                "take a screw at least {} shorter",
                report.show(limit - left)
            ));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
