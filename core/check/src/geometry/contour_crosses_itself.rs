//! Contours that cross or touch, and what is left between them with no width.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::feature::Shaping;
use jigless_model::geom::{LENGTH_TOLERANCE, Path, Point};
use jigless_model::plan::Part;
use jigless_model::provenance::Source;
use jigless_model::source::Span;

use super::{NO_WIDTH, thinnest_web};
use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("contour-crosses-itself"),
    name: "a contour that crosses or touches itself, or leaves wood of no width",
    group: Group::Geometry,
    severity: Severity::Error,
    measures: "the outline and every opening as they are cut, after corners, notches and cutouts; wood between two of \
        them narrower than 0.01 mm has no width",
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
        let part = piece.part();
        let crossing = std::iter::once(&region.outer)
            .chain(&region.inner)
            .filter(|path| !is_box(path))
            .find_map(Path::crossing);
        let (at, what) = if let Some(at) = crossing {
            (at, "its contour crosses or touches itself")
        } else if let Some(web) = thinnest_web(region, NO_WIDTH).filter(|w| w.distance < NO_WIDTH) {
            let at = web.on_first.toward(web.on_second, 0.5);
            (at, "wood of no width is left of it")
        } else {
            continue;
        };
        let message = format!("{what} at {}, {}", report.show(at.x), report.show(at.y));
        let place = cut_at(part, at).unwrap_or(part.span);
        let finding = report.finding(place, message).fix(
            "look at the cuts and the outline there: make them overlap, or leave wood between them",
        );
        report.add(&[Owner::Part(part)], finding);
    }
}

/// Where the last of the cuts is written that runs through a point of a part, given on its own face or its mirror image's.
fn cut_at(part: &Part, at: Point) -> Option<Span> {
    let mirrored = part.pair.as_ref().is_some_and(|pair| pair.mirrored);
    let at = if mirrored {
        Point::new(part.width - at.x, at.y)
    } else {
        at
    };
    let shapes = part.features.iter().flat_map(|placed| &placed.work.shapes);
    let near = |shaping: &Shaping| match shaping {
        Shaping::Cut { shape, span, .. } if shape.distance_to(at) <= NO_WIDTH => Some(*span),
        _ => None,
    };
    shapes.filter_map(near).next_back()
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
