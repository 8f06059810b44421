//! Holes that break out of an edge.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("hole-breaks-edge"),
    name: "a hole that breaks out of an edge",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "the distance from a hole's centre to the nearest contour, against the radius of the hole or of its \
        mouth",
    limit: None,
    formula: Some("distance to the contour < diameter / 2"),
    source: &[Source::Elementary],
    explanation: "The drill comes out at the side and tears the edge. Where an open hole is meant (half a hinge cup \
        over the edge, a finger grip), accept it with the reason.",
    example: "- hole: {at: [2, 50], diameter: 10, depth: through}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for piece in scene.pieces() {
        for rim in &piece.rims {
            let (operation, drill) = (rim.operation, rim.drill);
            let (radius, to_contour) = (rim.radius, rim.to_contour);
            if to_contour + LENGTH_TOLERANCE >= radius || !rim.inside {
                continue;
            }
            let finding = report
                .finding(
                    operation.origin.span,
                    format!(
                        "hole {} of {} breaks out: its centre is only {} from the nearest edge",
                        drill.id,
                        report.show(2.0 * radius),
                        report.show(to_contour)
                    ),
                )
                .fix(format!(
                    "move it {} away from the edge",
                    report.show(radius - to_contour)
                ));
            report.add(
                &[Owner::Feature(piece.part(), operation.origin.feature)],
                finding,
            );
        }
    }
}
