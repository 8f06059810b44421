//! Holes with little wood between them.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::scene::Footprint;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("holes-too-close"),
    name: "little wood between two holes",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "the wood between two holes whose depths overlap",
    limit: Some(Limit::length(2.0, "least wood between two holes")),
    formula: Some("distance of centres - both radii < limit"),
    source: &[Source::CommonPractice],
    explanation: "The wall between the holes breaks out when the second one is drilled. Holes in one row may be the \
        same holes described twice.",
    example: "- hole_row: {first: [50, 50], step: [0, 6], count: 5, diameter: 5, depth: 10}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for piece in scene.pieces() {
        for (first, second) in piece.near_pairs() {
            let (Footprint::Circle(..), Footprint::Circle(..)) =
                (&first.footprint, &second.footprint)
            else {
                continue;
            };
            let wall = first.gap_to(second);
            if first.overlap_in_depth(second) <= LENGTH_TOLERANCE
                || wall < -LENGTH_TOLERANCE
                || wall + LENGTH_TOLERANCE >= limit
            {
                continue;
            }
            let finding = report
                .finding(
                    second.operation.origin.span,
                    format!(
                        "only {} of wood between holes {} and {}; {} is wanted",
                        report.show(wall),
                        first.id(),
                        second.id(),
                        report.show(limit)
                    ),
                )
                .label(first.operation.origin.span, format!("hole {}", first.id()))
                .figures(
                    report.show(wall),
                    format!("at least {}", report.show(limit)),
                )
                .fix(format!(
                    "move them {} further apart",
                    report.show(limit - wall)
                ));
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
