//! Holes in an edge that run into work on a face.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("edge-hole-meets-work"),
    name: "a hole in an edge runs into other work",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "holes drilled into an edge that overlap holes, grooves, rebates, recesses or other edge holes",
    limit: None,
    formula: None,
    source: &[Source::Elementary],
    explanation: "A dowel or screw in the edge meets the other work, or stands in air. Fittings that want the two \
        holes to meet are accepted with the reason.",
    example: "- edge_hole: {edge: left, along: 50, diameter: 8, depth: 30} # and a hole at [20, 50]",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for piece in scene.pieces() {
        for (first, second) in piece.near_pairs() {
            if !first.is_edge_hole() && !second.is_edge_hole() {
                continue;
            }
            if first.overlap_in_depth(second) <= LENGTH_TOLERANCE
                || first.gap_to(second) >= -LENGTH_TOLERANCE
            {
                continue;
            }
            let finding = report
                .finding(
                    second.operation.origin.span,
                    format!(
                        "{} {} and {} {} run into one another",
                        second.name(),
                        second.id(),
                        first.name(),
                        first.id()
                    ),
                )
                .label(
                    first.operation.origin.span,
                    format!("{} {}", first.name(), first.id()),
                )
                .fix("move one of them, or make the edge hole shorter");
            report.add(
                &[
                    Owner::Feature(piece.part(), second.operation.origin.feature),
                    Owner::Feature(piece.part(), first.operation.origin.feature),
                ],
                finding,
            );
        }
    }
}
