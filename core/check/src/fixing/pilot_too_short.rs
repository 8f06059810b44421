//! Pilot holes shorter than their screw.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::Depth;
use jigless_model::plan::StockKind;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("pilot-too-short"),
    name: "a pilot hole shorter than its screw",
    group: Group::Fixing,
    severity: Severity::Warning,
    measures: "the depth of a blind hole with a screw that ends in it, against the screw's length; in MDF 1 mm more",
    limit: None,
    formula: Some("depth < length; in MDF depth < length + 1 mm"),
    source: &[Source::Note(
        "MDF: mdf-info.eu, at least 1 mm deeper than the screw (seen); otherwise the screw's length: common \
        practice, no source",
    )],
    explanation: "Below the pilot the screw drives the fibres apart: MDF and edges split, and the head stays up.",
    example: "- hole: {at: [50, 50], diameter: 2.2, depth: 12, screw: {length: 16, size: \"#8\"}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for (piece, feature, fact) in scene.facts() {
        let Fact::Screw(screw) = fact else {
            continue;
        };
        let (None, Depth::Blind(depth)) = (&screw.into, screw.depth.value) else {
            continue;
        };
        let more = if piece.part().stock.kind == StockKind::Mdf {
            1.0
        } else {
            0.0
        };
        let wanted = screw.length.value + screw.sunk + more;
        if depth + LENGTH_TOLERANCE >= wanted {
            continue;
        }
        let finding = report
            .finding(
                screw.depth.span,
                format!(
                    "a pilot {} deep for a screw of {} in {}; {} is wanted",
                    report.show(depth),
                    report.show(screw.length.value),
                    piece.part().stock.kind.name(),
                    report.show(wanted)
                ),
            )
            .label(screw.length.span, "the screw")
            .figures(
                report.show(depth),
                format!("at least {}", report.show(wanted)),
            )
            .fix(format!(
                "make it {} deeper, or take a shorter screw",
                report.show(wanted - depth)
            ));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
