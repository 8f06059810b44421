//! Clearance holes that the screw does not pass.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::clearance;
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("clearance-hole-tight"),
    name: "a clearance hole that its screw does not pass",
    group: Group::Fixing,
    severity: Severity::Warning,
    measures: "the diameter of a hole with a screw that goes `into` another part, against the screw's shank and its \
        tolerance",
    limit: None,
    formula: Some(
        "wood screw: hole < diameter + 0.004 in; machine screw: hole < the fine clearance hole",
    ),
    source: &[Source::Note(
        "shank 0.060 in + 0.013 in x gauge after ASME B18.6.1 (formula seen second-hand), tolerance +0.004 in \
        (boring chart, seen); fine clearance holes after ISO 273 (seen in two copies that agree)",
    )],
    explanation: "A screw that bites into both parts holds them apart instead of pulling them together.",
    example: "- hole: {at: [50, 50], diameter: 4, depth: through, screw: {length: 32, size: \"#8\", into: side, \
        enters: edge}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for (piece, feature, fact) in scene.facts() {
        let Fact::Screw(screw) = fact else {
            continue;
        };
        let needed = clearance(screw.size.value);
        if screw.into.is_none() || screw.diameter.value + LENGTH_TOLERANCE >= needed {
            continue;
        }
        let finding = report
            .finding(
                screw.diameter.span,
                format!(
                    "a hole of {} does not let a screw of size {} through; {} does",
                    report.show(screw.diameter.value),
                    screw.size.value.name(),
                    report.show(needed)
                ),
            )
            .label(screw.size.span, "the screw")
            .fix(format!(
                "make it {} larger",
                report.show(needed - screw.diameter.value)
            ));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
