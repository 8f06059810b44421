//! Strips too narrow to hold safely.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::plan::CutBy;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("strip-too-narrow"),
    name: "a strip too narrow to hold safely at a saw",
    group: Group::Safety,
    severity: Severity::Warning,
    measures: "the sides of every part whose stock has `cut_by: saw`",
    limit: Some(Limit::length(30.0, "least width of a part from the saw")),
    formula: Some("smaller side < limit"),
    source: &[
        Source::CommonPractice,
        Source::Note("the manual of your own saw goes before it"),
    ],
    explanation: "Between fence and blade there is no room for a hand, and a narrow strip shoots back. Rip it from a \
        wide board on the far side of the blade, with push stick and riving knife, or let it be cut \
        elsewhere.",
    example: "edging: {stock: birch18, width: 600, height: 12} # a stock with `cut_by: saw`",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for piece in scene.pieces() {
        let part = piece.part();
        let side = part.width.min(part.height);
        if part.stock.cut_by != Some(CutBy::Saw) || side + LENGTH_TOLERANCE >= limit {
            continue;
        }
        let finding = report
            .finding(
                part.span,
                format!("`{}` is only {} wide; {} is wanted at a saw", part.id, report.show(side), report.show(limit)),
            )
            .label(part.stock.span, "cut by a saw")
            .figures(report.show(side), format!("at least {}", report.show(limit)))
.fix("cut it from a wider piece, on the far side of the blade; or say here why it is safe with `accept`");
        report.add(&[Owner::Part(piece.part())], finding);
    }
}
