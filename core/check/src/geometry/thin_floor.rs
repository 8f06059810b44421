//! Blind work that leaves little wood under it.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::{Depth, Work};
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("thin-floor"),
    name: "little wood left under blind work",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "thickness less depth of every blind hole, groove, rebate and recess",
    limit: Some(Limit::length(2.0, "least wood under blind work")),
    formula: Some("thickness - depth < limit"),
    source: &[
        Source::CommonPractice,
        Source::Note("under hinge cups the trade wants about 3 mm"),
    ],
    explanation: "The point of a drill comes through before its edges reach the depth, and a thin floor shows as a \
        bump or breaks. Mind the point of your own bit, which the depth does not count.",
    example: "- hole: {at: [50, 50], diameter: 8, depth: 17} # in 18 mm",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for piece in scene.pieces() {
        let thickness = piece.part().thickness();
        for operation in &piece.workpiece.operations {
            let (id, what, depth) = match &operation.work {
                Work::Drill(drill) => match drill.depth {
                    Depth::Blind(depth) => (&drill.id, "hole", depth),
                    Depth::Through => continue,
                },
                Work::MillArea(area) => (&area.id, area.kind.name(), area.depth),
                _ => continue,
            };
            let floor = thickness - depth;
            if floor + LENGTH_TOLERANCE >= limit {
                continue;
            }
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "{what} {id} is {} deep and leaves {} of {}; {} is wanted",
                        report.show(depth),
                        report.show(floor),
                        report.show(thickness),
                        report.show(limit)
                    ),
                )
                .label(piece.part().stock.span, "the stock")
                .figures(
                    report.show(floor),
                    format!("at least {}", report.show(limit)),
                )
                .fix(format!("make it {} shallower", report.show(limit - floor)));
            report.add(
                &[Owner::Feature(piece.part(), operation.origin.feature)],
                finding,
            );
        }
    }
}
