//! A hole thinner than any usual bit.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::Work;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("drill-bit-too-thin"),
    name: "a hole thinner than usual bits",
    group: Group::Geometry,
    severity: Severity::Note,
    measures: "diameter of every hole in a face",
    limit: Some(Limit::length(1.0, "least diameter of a bit at hand")),
    formula: Some("diameter < limit"),
    source: &[Source::CommonPractice],
    explanation: "Very thin bits break and run off in plywood. Prick the place with an awl instead.",
    example: "- hole: {at: [50, 50], diameter: 0.8}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for piece in scene.pieces() {
        for operation in &piece.workpiece.operations {
            let Work::Drill(drill) = &operation.work else {
                continue;
            };
            if drill.diameter + LENGTH_TOLERANCE >= limit {
                continue;
            }
            let message = format!(
                "hole {} is {} thick; {} is wanted",
                drill.id,
                report.show(drill.diameter),
                report.show(limit)
            );
            let finding = report
                .finding(operation.origin.span, message)
                .fix(format!("make it {} wide", report.show(limit)));
            report.add(
                &[Owner::Feature(piece.part(), operation.origin.feature)],
                finding,
            );
        }
    }
}
