//! Where the sides of a view lie.

use jigless_core::geom::Point;
use jigless_core::side::Edge;
use jigless_core::view::FaceView;

/// A point on a side of a view, and the way out of the part from it.
pub(crate) fn outward(view: &FaceView, side: Edge, along: f64) -> (Point, Point) {
    match side {
        Edge::Left => (Point::new(0.0, along), Point::new(-1.0, 0.0)),
        Edge::Right => (Point::new(view.width, along), Point::new(1.0, 0.0)),
        Edge::Bottom => (Point::new(along, 0.0), Point::new(0.0, -1.0)),
        Edge::Top => (Point::new(along, view.height), Point::new(0.0, 1.0)),
    }
}

/// Length of a side of a view.
pub(crate) fn length(view: &FaceView, side: Edge) -> f64 {
    if side.is_upright() {
        view.height
    } else {
        view.width
    }
}

/// How far a point lies inside of a side of a view.
pub(crate) fn distance(view: &FaceView, side: Edge, point: Point) -> f64 {
    match side {
        Edge::Left => point.x,
        Edge::Right => view.width - point.x,
        Edge::Bottom => point.y,
        Edge::Top => view.height - point.y,
    }
}
