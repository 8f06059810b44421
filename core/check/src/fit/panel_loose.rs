//! Panels that rattle in their groove or slot.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::{Fact, Slot};
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::likely_sheet;
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("panel-loose"),
    name: "a panel much thinner than the groove or slot that takes it",
    group: Group::Fit,
    severity: Severity::Warning,
    measures: "the width of the groove, notch or slot less the thinnest reading of the panel that it takes",
    limit: Some(Limit::length(0.5, "most play of a panel in its groove")),
    formula: Some("width - thinnest reading > limit"),
    source: &[Source::Note(
        "the limit is common practice, no source; sheets sold as 3/4 in may measure 0.688 to 0.781 in (PS 1 \
        performance categories 23/32 and 3/4, seen second-hand), so a groove of 0.750 may be 0.062 in loose",
    )],
    explanation: "A loose panel rattles, and glue does not fill the gap. Most often a nominal size was written where \
        the sheet measures less: set the stock's `thickness` from readings and the groove from that.",
    example: "- groove: {along: width, from: {bottom: 8}, width: 3/4 in, depth: 5, receives: shelf} # and a shelf of \
        18 mm",
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
        let thinnest = stock
            .readings
            .iter()
            .copied()
            .fold(stock.thickness, f64::min);
        let play = received.width.value - thinnest;
        if received.slot == Slot::Rebate || play <= limit + LENGTH_TOLERANCE {
            continue;
        }
        let mut message = format!(
            "`{}` is {} thick at its thinnest and has {} of play in a {} of {}",
            other.part().id,
            report.show(thinnest),
            report.show(play),
            received.slot.name(),
            report.show(received.width.value)
        );
        message.push_str(&likely_sheet(received.width.value, stock.thickness));
        let finding = report
            .finding(received.width.span, message)
            .label(received.part.span, "the part that goes in")
            .label(stock.span, "what it is made of")
            .fix(format!("make it {} narrower", report.show(play - limit)));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
