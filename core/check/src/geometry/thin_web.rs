//! Thin strips of wood between openings, and between openings and the outline.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::provenance::Source;

use super::{NO_WIDTH, thinnest_web};
use crate::report::Owner;
use crate::{CheckKind, Group, Limit, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("thin-web"),
    name: "a thin strip of wood between two cuts",
    group: Group::Geometry,
    severity: Severity::Warning,
    measures: "the narrowest wood between two openings, between an opening and the outline, and between two places \
        of the outline that are far apart along it",
    limit: Some(Limit::length(2.0, "least width of a strip")),
    formula: Some("least distance between two contours, exact for lines and arcs"),
    source: &[Source::CommonPractice],
    explanation: "A narrow strip chars under a laser, breaks under a router, and is the first thing to go in use. Move \
        the openings apart or make one of them.",
    example: "- cutout: {at: [1, 20], width: 40, height: 40}",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    let limit = report.limit();
    for piece in scene.pieces() {
        let Some(web) = thinnest_web(&piece.region, limit) else {
            continue;
        };
        // What has no width at all is an error of its own.
        if web.distance + LENGTH_TOLERANCE >= limit || web.distance < NO_WIDTH {
            continue;
        }
        let part = piece.part();
        let middle = web.on_first.toward(web.on_second, 0.5);
        let finding = report
            .finding(
                part.span,
                format!(
                    "only {} of wood is left at {}, {}; {} is wanted",
                    report.show(web.distance),
                    report.show(middle.x),
                    report.show(middle.y),
                    report.show(limit)
                ),
            )
            .figures(
                report.show(web.distance),
                format!("at least {}", report.show(limit)),
            )
            .fix(format!(
                "move the cuts beside it {} apart",
                report.show(limit - web.distance)
            ));
        report.add(&[Owner::Part(piece.part())], finding);
    }
}
