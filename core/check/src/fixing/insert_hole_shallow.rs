//! Holes shallower than their insert.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::fact::Fact;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::Depth;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("insert-hole-shallow"),
    name: "a hole shallower than its insert is long",
    group: Group::Fixing,
    severity: Severity::Error,
    measures: "the depth of a hole with an `insert` (the thickness where it goes through), against the insert's \
        length",
    limit: None,
    formula: Some("depth < length"),
    source: &[Source::Elementary],
    explanation: "The insert stands out of the face. Mind that a bolt may reach further than the insert.",
    example: "- hole: {at: [50, 50], diameter: 9.5, depth: 10, insert: {hole: 9.5, length: 13}}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for (piece, feature, fact) in scene.facts() {
        let Fact::Insert { length, depth, .. } = fact else {
            continue;
        };
        let deep = match depth.value {
            Depth::Blind(depth) => depth,
            Depth::Through => piece.part().thickness(),
        };
        if deep + LENGTH_TOLERANCE >= length.value {
            continue;
        }
        let finding = report
            .finding(
                depth.span,
                format!(
                    "a hole {} deep for an insert {} long",
                    report.show(deep),
                    report.show(length.value)
                ),
            )
            .label(length.span, "the insert")
            .fix(format!(
                "make it {} deeper, or take a shorter insert",
                report.show(length.value - deep)
            ));
        report.add(&[Owner::Feature(piece.part(), Some(feature))], finding);
    }
}
