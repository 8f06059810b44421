//! Pocket screws that hold to too little.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::pocket_screws;
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("pocket-screw-short"),
    name: "a pocket screw that holds to little wood",
    group: Group::Fixing,
    severity: Severity::Warning,
    measures: "what a pocket screw reaches into the face of the part that it goes `into`, square to it",
    limit: Some(Limit::length(10.0, "least reach into the other part")),
    formula: Some("(length - wood between shoulder and edge) x cos(angle) < limit"),
    source: &[
        Source::CommonPractice,
        Source::Note("usual screws (3/4 in stock with 1-1/4 in) reach 12 to 13 mm"),
    ],
    explanation: "A screw that only scratches the other part holds nothing. Take a longer screw or set the collar of \
        the bit so that the shoulder is nearer to the edge.",
    example: "- pocket_holes: {edge: left, at: [50], screw: {length: 25}, into: side} # both 18 mm",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for screws in pocket_screws(scene) {
        if screws.reach + LENGTH_TOLERANCE >= limit {
            continue;
        }
        let longer = (limit - screws.reach) / screws.angle.cos();
        let finding = report
            .finding(
                screws.length.span,
                format!(
                    "a pocket screw of {} reaches {} into `{}`; {} is wanted",
                    report.show(screws.length.value),
                    report.show(screws.reach.max(0.0)),
                    screws.other.id,
                    report.show(limit)
                ),
            )
            .label(screws.named, "the part that it goes into")
            .fix(format!(
                "take a screw at least {} longer",
                report.show(longer)
            ));
        report.add(
            &[Owner::Feature(screws.piece.part(), Some(screws.feature))],
            finding,
        );
    }
}
