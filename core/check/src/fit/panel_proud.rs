//! Panels that stand proud of their rebate.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::{Fact, Slot};
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::likely_sheet;
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("panel-proud"),
    name: "a panel that stands proud of its rebate",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "the thickest reading of the panel less the width of the rebate that names it with `receives`",
    limit: Some(Limit::length(0.2, "most that a panel may stand proud")),
    formula: Some("thickest reading - width > limit"),
    source: &[Source::CommonPractice],
    explanation: "A panel thicker than its rebate stands out behind the cabinet or in front of the edge. Make the \
        rebate as wide as the thickest reading.",
    example: "- rebate: {edge: right, width: 6, depth: 8, receives: back} # and a back of 6.5 mm",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for (piece, feature, fact) in scene.facts() {
        let Fact::Receives(received) = fact else {
            continue;
        };
        let Some(other) = scene.piece(&received.part.value) else {
            continue;
        };
        let stock = &other.part().stock;
        let proud = stock.thickest() - received.width.value;
        if received.slot != Slot::Rebate || proud <= limit + LENGTH_TOLERANCE {
            continue;
        }
        let mut message = format!(
            "`{}` is {} thick at its thickest and stands {} out of a rebate {} wide",
            other.part().id,
            report.show(stock.thickest()),
            report.show(proud),
            report.show(received.width.value)
        );
        message.push_str(&likely_sheet(received.width.value, stock.thickness));
        let finding = report
            .finding(received.width.span, message)
            .label(received.part.span, "the part that goes in")
            .label(stock.span, "what it is made of")
            .fix(format!("make the rebate {} wider", report.show(proud)));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
