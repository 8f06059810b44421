//! Holes that do not suit their insert.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("insert-hole-off"),
    name: "a hole of another size than its insert asks for",
    group: Group::Fixing,
    severity: Severity::Warning,
    measures: "the diameter of a hole with an `insert`, against the diameter that the insert's maker asks for",
    limit: Some(Limit::length(0.2, "most difference of the diameters")),
    formula: Some("|diameter - wanted| > limit"),
    source: &[Source::Note(
        "the data sheet of the insert; the limit is common practice, no source (a small insert often wants \
        3/8 in)",
    )],
    explanation: "In a hole that is too large the insert turns with the bolt; in one that is too small it splits the \
        wood.",
    example: "- hole: {at: [50, 50], diameter: 9, depth: 14, insert: {hole: 3/8 in, length: 13}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for (piece, feature, fact) in scene.facts() {
        let Fact::Insert {
            wanted, diameter, ..
        } = fact
        else {
            continue;
        };
        let off = diameter.value - wanted.value;
        if off.abs() <= limit + LENGTH_TOLERANCE {
            continue;
        }
        let (way, by) = if off < 0.0 {
            ("larger", -off)
        } else {
            ("smaller", off)
        };
        let finding = report
            .finding(
                diameter.span,
                format!(
                    "a hole of {} for an insert that wants {}",
                    report.show(diameter.value),
                    report.show(wanted.value)
                ),
            )
            .label(wanted.span, "the insert")
            .fix(format!("make it {} {way}", report.show(by)));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
