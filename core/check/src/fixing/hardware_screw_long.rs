//! Hardware whose screw is longer than what holds it.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("hardware-screw-long"),
    name: "a screw of bought hardware that comes through the part",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "the length of the screws of hinge cups, hinge plates and runners, where the plan gives it, against \
        the part's thickness",
    limit: Some(Limit::length(1.0, "least wood in front of the point")),
    formula: Some("length > thickness - limit"),
    source: &[
        Source::Elementary,
        Source::Note("the limit is common practice, no source"),
    ],
    explanation: "The screws that come in the bag are for a thicker board. Take shorter ones of the same head: the \
        point comes out on the show side.",
    example: "- runner_holes: {edge: left, height: 60, setback: 2, offsets: [37], diameter: 2.5, depth: 10, screw: \
        {length: 16}} # in 12 mm",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for (piece, feature, fact) in scene.facts() {
        let Fact::HardwareScrew { what, length } = fact else {
            continue;
        };
        let thickness = piece.part().thickness();
        let left = thickness - length.value;
        if left + LENGTH_TOLERANCE >= limit {
            continue;
        }
        let finding = report
            .finding(
                length.span,
                format!(
                    "the screw of the {what} is {} long, `{}` is {} thick",
                    report.show(length.value),
                    piece.part().id,
                    report.show(thickness)
                ),
            )
            .label(piece.part().stock.span, "the stock")
            .fix(format!(
                "take a screw at least {} shorter",
                report.show(limit - left)
            ));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
