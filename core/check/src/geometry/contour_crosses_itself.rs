//! Contours that cross themselves.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::{LENGTH_TOLERANCE, Path, Point};
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("contour-crosses-itself"),
    name: "a contour that crosses or touches itself",
    group: Group::Geometry,
    severity: Severity::Error,
    measures: "the outline and every opening as they are cut, after corners, notches and cutouts",
    limit: None,
    formula: None,
    source: &[Source::Elementary],
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
            .find(|path| !is_box(path) && path.crosses_itself());
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
        report.add(&[Owner::Part(piece.part())], finding);
    }
}

/// Whether a path is a plain rectangle, as most outlines are: four lines that turn left or right at every corner.
fn is_box(path: &Path) -> bool {
    let [a, b, c, d] = path.vertices.as_slice() else {
        return false;
    };
    let straight = path.vertices.iter().all(|vertex| vertex.bulge == 0.0);
    let middle_of = |a: Point, b: Point| a.toward(b, 0.5);
    // Diagonals that halve one another make a parallelogram, and one with an area has no crossing.
    let apart = middle_of(a.point, c.point).distance(middle_of(b.point, d.point));
    straight && apart <= LENGTH_TOLERANCE && path.area().abs() > LENGTH_TOLERANCE
}
