//! Panels that do not go into their groove or slot.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::{Fact, Slot};
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::likely_sheet;
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("panel-too-thick"),
    name: "a panel thicker than the groove or slot that takes it",
    group: Group::Fit,
    severity: Severity::Error,
    measures: "the thickest reading of the panel's stock against the width of the groove, notch or slot that names \
        it with `receives`",
    limit: None,
    formula: Some("thickest reading > width"),
    source: &[
        Source::Elementary,
        Source::Note("the measured thickness counts, not the nominal one"),
    ],
    explanation: "The panel does not go in. Measure the sheet at several places and make the groove wider by a little \
        more than the thickest reading: 0.1 to 0.2 mm for a panel that slips in by hand (common practice, no \
        source).",
    example: "- groove: {along: width, from: {bottom: 8}, width: 6, depth: 5, receives: back} # and a back of 6.3 mm",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for (piece, feature, fact) in scene.facts() {
        let Fact::Receives(received) = fact else {
            continue;
        };
        let Some(other) = scene.piece(&received.part.value) else {
            continue;
        };
        let stock = &other.part().stock;
        let over = stock.thickest() - received.width.value;
        if received.slot == Slot::Rebate || over <= LENGTH_TOLERANCE {
            continue;
        }
        let mut message = format!(
            "`{}` is {} thick at its thickest, the {} that takes it is {} wide",
            other.part().id,
            report.show(stock.thickest()),
            received.slot.name(),
            report.show(received.width.value)
        );
        message.push_str(&likely_sheet(received.width.value, stock.thickness));
        let finding = report
            .finding(received.width.span, message)
            .label(received.part.span, "the part that goes in")
            .label(stock.span, "what it is made of")
            .fix(format!("make it at least {} wider", report.show(over)));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
