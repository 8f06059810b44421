//! Pocket screws whose point comes out of the other part.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::pocket_screws;
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("pocket-screw-through"),
    name: "a pocket screw whose point comes out of the other part",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "what a pocket screw reaches into the face of the part that it goes `into`, square to it, against \
        that part's thickness",
    limit: Some(Limit::length(1.0, "least wood in front of the point")),
    formula: Some(
        "(length - wood between shoulder and edge) x cos(angle) > thickness of the other part - limit",
    ),
    source: &[
        Source::Elementary,
        Source::Note(
            "the limit is common practice, no source; every published length table traces to jig makers, so none \
        is used",
        ),
    ],
    explanation: "The point of a screw tears skin and cloth. Take a shorter screw or a deeper shoulder. A screw into \
        an edge has more wood before it: leave `into` out there.",
    example: "- pocket_holes: {edge: left, at: [50], screw: {length: 45}, into: side} # both 18 mm",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for screws in pocket_screws(scene) {
        let left = screws.other.thickness() - screws.reach;
        if left + LENGTH_TOLERANCE >= limit {
            continue;
        }
        let shorter = (limit - left) / screws.angle.cos();
        let finding = report
            .finding(
                screws.length.span,
                format!(
                    "a pocket screw of {} reaches {} into `{}`, which is {} thick",
                    report.show(screws.length.value),
                    report.show(screws.reach),
                    screws.other.id,
                    report.show(screws.other.thickness())
                ),
            )
            .label(screws.named, "the part that it goes into")
            .label(screws.other.stock.span, "what that is made of")
            .fix(format!(
                "take a screw at least {} shorter",
                report.show(shorter)
            ));
        report.add(
            &[Owner::Feature(screws.piece.part(), Some(screws.feature))],
            finding,
        );
    }
}
