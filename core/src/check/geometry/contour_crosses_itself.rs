//! Contours that cross themselves.

use crate::check::report::Owner;
use crate::check::{CheckKind, Group, Report, Scene};
use crate::diag::Severity;

pub(in crate::check) static KIND: CheckKind = CheckKind {
    code: "contour-crosses-itself",
    name: "a contour that crosses or touches itself",
    group: Group::Geometry,
    severity: Severity::Error,
    measures: "the outline and every opening as they are cut, after corners, notches and cutouts",
    limit: None,
    formula: None,
    source: "elementary geometry",
    explanation: "No saw or router can follow it, and the inside and outside of the part are not clear. Each feature \
        on its own may be sound; together they are not.",
    example: "- cutout: {at: [50, 20], width: 20, height: 20}   # and another at [70, 40], corner to corner",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for piece in scene.pieces() {
        let region = &piece.region;
        let crossing = std::iter::once(&region.outer)
            .chain(&region.inner)
            .find(|path| path.crosses_itself());
        if crossing.is_none() {
            continue;
        }
        let part = piece.part();
        let finding = report
            .finding(
                part.span,
                format!("the contour of `{}` crosses or touches itself", part.id),
            )
            .fix("look at its outline, notches and cutouts: two of them are in each other's way");
        report.tell(&[Owner::Part(piece.part())], finding);
    }
}
