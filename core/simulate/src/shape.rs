//! Areas as polygons on a fine grid of whole numbers.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay, ShapeType};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::{Precision, Solver};
use i_overlay::i_float::int::point::IntPoint;
use jigless_model::geom::{Bounds, Path, Point};

/// Steps of the grid in a millimetre: a step is 1.5e-5 mm.
const STEPS: f64 = 65_536.0;

/// Arcs stay within this of their chords, in millimetres.
pub(crate) const CHORD_ERROR: f64 = 0.004;

/// How near to the end of an edge another one may pass before it goes through that end: twice a step of the grid at first,
/// and more each time that edges have to be divided anew. The library's own setting takes five times as long where ways
/// cross one another at small angles.
const SOLVER: Solver = Solver {
    precision: Precision::LOW,
    ..Solver::AUTO
};

/// A closed polygon.
pub(crate) type Polygon = Vec<IntPoint<i64>>;

/// A point on the grid.
pub(crate) fn node(point: Point) -> IntPoint<i64> {
    IntPoint::new(
        (point.x * STEPS).round() as i64,
        (point.y * STEPS).round() as i64,
    )
}

/// A point of the grid in millimetres.
pub(crate) fn point(node: IntPoint<i64>) -> Point {
    Point::new(node.x as f64 / STEPS, node.y as f64 / STEPS)
}

/// A closed path as a polygon.
pub(crate) fn polygon(path: &Path) -> Polygon {
    path.flattened(CHORD_ERROR).into_iter().map(node).collect()
}

/// Closed paths as polygons.
pub(crate) fn polygons(paths: &[Path]) -> Vec<Polygon> {
    paths.iter().map(polygon).collect()
}

fn combined(
    subject: &[Polygon],
    clip: &[Polygon],
    rule: OverlayRule,
    fill: FillRule,
) -> Vec<Polygon> {
    let points = subject.iter().chain(clip).map(Vec::len).sum();
    let mut overlay = Overlay::<i64>::new_custom(points, IntOverlayOptions::default(), SOLVER);
    for polygon in subject {
        overlay.add_contour(polygon, ShapeType::Subject);
    }
    for polygon in clip {
        overlay.add_contour(polygon, ShapeType::Clip);
    }
    overlay.overlay(rule, fill).into_iter().flatten().collect()
}

/// All of several polygons as one area; each counts whichever way it runs round.
pub(crate) fn union(polygons: &[Polygon]) -> Vec<Polygon> {
    combined(polygons, &[], OverlayRule::Subject, FillRule::NonZero)
}

/// What of an area lies in another one. Both are results of [`union`] or [`odd`].
pub(crate) fn common(a: &[Polygon], b: &[Polygon]) -> Vec<Polygon> {
    combined(a, b, OverlayRule::Intersect, FillRule::NonZero)
}

/// What of an area lies outside another one. Both are results of [`union`] or [`odd`].
pub(crate) fn without(a: &[Polygon], b: &[Polygon]) -> Vec<Polygon> {
    combined(a, b, OverlayRule::Difference, FillRule::NonZero)
}

/// Area in square millimetres, openings taken off.
pub(crate) fn area(polygons: &[Polygon]) -> f64 {
    polygons.iter().map(signed_area).sum::<f64>().abs()
}

fn signed_area(polygon: &Polygon) -> f64 {
    let points = polygon.iter().zip(polygon.iter().cycle().skip(1));
    points.map(|(a, b)| point(*a).cross(point(*b)) / 2.0).sum()
}

/// Groups polygons into pieces: each outer one with the openings that follow it.
pub(crate) fn pieces(polygons: Vec<Polygon>) -> Vec<Vec<Polygon>> {
    let mut pieces: Vec<Vec<Polygon>> = Vec::new();
    for polygon in polygons {
        let opening = signed_area(&polygon) < 0.0;
        match pieces.last_mut() {
            Some(piece) if opening => piece.push(polygon),
            _ => pieces.push(vec![polygon]),
        }
    }
    pieces
}

/// The box around polygons.
pub(crate) fn bounds(polygons: &[Polygon]) -> Option<Bounds> {
    Bounds::of_points(polygons.iter().flatten().map(|node| point(*node)))
}
