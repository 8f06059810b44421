//! Grooves over half the thickness.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::{AreaKind, Work};
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("groove-too-deep"),
    name: "a groove deeper than half the thickness",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "the depth of every groove as a share of the thickness",
    limit: Some(Limit::number(
        0.5,
        "greatest depth as a share of the thickness",
    )),
    formula: Some("depth / thickness > limit"),
    source: &[Source::CommonPractice],
    explanation: "A groove is a line along which the part breaks. Half the thickness is what the trade keeps to; a \
        third is better in solid wood.",
    example: "- groove: {along: width, from: {bottom: 8}, width: 6, depth: 7} # in 12 mm",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let share = report.limit();
    for piece in scene.pieces() {
        let thickness = piece.part().thickness();
        let limit = share * thickness;
        for operation in &piece.workpiece.operations {
            let Work::MillArea(area) = &operation.work else {
                continue;
            };
            if area.kind != AreaKind::Groove || area.depth <= limit + LENGTH_TOLERANCE {
                continue;
            }
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "groove {} is {} deep in {}: more than {} of the thickness, which is {}",
                        area.id,
                        report.show(area.depth),
                        report.show(thickness),
                        jigless_model::units::decimal(share, 2),
                        report.show(limit)
                    ),
                )
                .label(piece.part().stock.span, "the stock")
                .figures(
                    report.show(area.depth),
                    format!("at most {}", report.show(limit)),
                )
                .fix(format!(
                    "make it {} shallower",
                    report.show(area.depth - limit)
                ));
            report.add(
                &[Owner::Feature(piece.part(), operation.origin.feature)],
                finding,
            );
        }
    }
}
