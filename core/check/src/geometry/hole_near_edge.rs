//! Holes with little wood between them and an edge.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::what_is_there;
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("hole-near-edge"),
    name: "little wood between a hole and an edge",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "the wood between the rim of a hole (or its mouth) and the nearest contour",
    limit: Some(Limit::length(3.0, "least wood between rim and edge")),
    formula: Some("distance to the contour - diameter / 2 < limit"),
    source: &[
        Source::CommonPractice,
        Source::Note(
            "cup hinge data sheets ask for 3 to 7 mm (trade practice, seen in trade catalogues)",
        ),
    ],
    explanation: "A thin wall beside a hole splits when it is drilled or when a screw is driven. Move the hole, or \
        take a smaller drill.",
    example: "- hole: {at: [7, 50], diameter: 10, depth: through}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for piece in scene.pieces() {
        for rim in &piece.rims {
            let (operation, drill, radius) = (rim.operation, rim.drill, rim.radius);
            let wall = rim.to_contour - radius;
            // Holes that break out have a finding of their own.
            if !rim.inside || wall < -LENGTH_TOLERANCE || wall + LENGTH_TOLERANCE >= limit {
                continue;
            }
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "only {} of wood between hole {} of {} and the {}; {} is wanted",
                        report.show(wall),
                        drill.id,
                        report.show(2.0 * radius),
                        what_is_there(piece, rim.nearest),
                        report.show(limit)
                    ),
                )
                .figures(
                    report.show(wall),
                    format!("at least {}", report.show(limit)),
                )
                .fix(format!(
                    "move it {} away from the {}",
                    report.show(limit - wall),
                    what_is_there(piece, rim.nearest)
                ));
            report.add(
                &[Owner::Feature(piece.part(), operation.origin.feature)],
                finding,
            );
        }
    }
}
