//! Countersinks that leave nothing under the head.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::{Mouth, Work};
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("countersink-too-deep"),
    name: "a screw head with too little wood under it",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "thickness less the depth of a countersink or counterbore in a hole that goes through",
    limit: Some(Limit::length(2.0, "least wood under the head")),
    formula: Some("cone: (mouth diameter - hole) / 2 / tan(angle / 2); thickness - depth < limit"),
    source: &[
        Source::Elementary,
        Source::Note("the limit is common practice, no source"),
    ],
    explanation: "The wood under the head is all that the screw pulls on. In thin sheets the cone reaches the far face \
        and the head pulls through.",
    example: "- hole: {at: [50, 50], diameter: 4, depth: through, countersink: {diameter: 12}} # in 5 mm",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for piece in scene.pieces() {
        let thickness = piece.part().thickness();
        for operation in &piece.workpiece.operations {
            let Work::Drill(drill) = &operation.work else {
                continue;
            };
            let Some(mouth) = drill.mouth else {
                continue;
            };
            let depth = mouth.depth(drill.diameter);
            let left = thickness - depth;
            if left + LENGTH_TOLERANCE >= limit {
                continue;
            }
            let what = match mouth {
                Mouth::Countersink { .. } => "countersink",
                Mouth::Counterbore { .. } => "counterbore",
            };
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "the {what} of hole {} is {} deep and leaves {} under the head; {} is wanted",
                        drill.id,
                        report.show(depth),
                        report.show(left),
                        report.show(limit)
                    ),
                )
                .label(piece.part().stock.span, "the stock")
                .figures(report.show(left), format!("at least {}", report.show(limit)))
.fix(format!("make it {} shallower, or use a smaller head", report.show(limit - left)));
            report.add(
                &[Owner::Feature(piece.part(), operation.origin.feature)],
                finding,
            );
        }
    }
}
