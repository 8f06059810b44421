//! Parts too small to be guided at a saw.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::plan::CutBy;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("part-too-small-for-saw"),
    name: "a part too small to be guided at a saw",
    group: Group::Safety,
    severity: Severity::Warning,
    measures: "the sides of every part whose stock has `cut_by: saw`",
    limit: Some(Limit::length(150.0, "least length of a part from the saw")),
    formula: Some("larger side < limit"),
    source: &[
        Source::CommonPractice,
        Source::Note("the manual of your own saw goes before it"),
    ],
    explanation: "A short piece tips into the blade or is thrown. Cut it from a longer one with a sled and a clamp, or \
        work it while it is still part of a larger board.",
    example: "block: {stock: birch18, width: 60, height: 60} # a stock with `cut_by: saw`",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for piece in scene.pieces() {
        let part = piece.part();
        let side = part.width.max(part.height);
        if part.stock.cut_by != Some(CutBy::Saw) || side + LENGTH_TOLERANCE >= limit {
            continue;
        }
        let finding = report
            .finding(
                part.span,
                format!(
                    "`{}` is only {} long; {} is wanted at a saw",
                    part.id,
                    report.show(side),
                    report.show(limit)
                ),
            )
            .label(part.stock.span, "cut by a saw")
            .figures(
                report.show(side),
                format!("at least {}", report.show(limit)),
            )
            .fix(
                "cut it from a longer piece that is held; or say here why it is safe with `accept`",
            );
        report.add(&[Owner::Part(piece.part())], finding);
    }
}
