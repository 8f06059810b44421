//! Where the sides of a view lie, and its two directions.

use jigless_model::geom::{Bounds, Point};
use jigless_model::side::Edge;
use jigless_model::view::FaceView;
use jigless_model::whole::{Body, Direction, Side};

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

/// One of the two directions of a view.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Axis {
    /// Along x.
    Across,
    /// Along y.
    Upward,
}

impl Axis {
    /// Both.
    pub(crate) const ALL: [Axis; 2] = [Axis::Across, Axis::Upward];

    /// The other one.
    pub(crate) fn other(self) -> Self {
        match self {
            Axis::Across => Axis::Upward,
            Axis::Upward => Axis::Across,
        }
    }

    /// The coordinate of a point along it.
    pub(crate) fn of(self, point: Point) -> f64 {
        match self {
            Axis::Across => point.x,
            Axis::Upward => point.y,
        }
    }

    /// From where to where a box reaches along it.
    pub(crate) fn span(self, bounds: Bounds) -> (f64, f64) {
        (self.of(bounds.min), self.of(bounds.max))
    }

    /// The point at a coordinate along it and one along the other.
    pub(crate) fn point(self, along: f64, other: f64) -> Point {
        match self {
            Axis::Across => Point::new(along, other),
            Axis::Upward => Point::new(other, along),
        }
    }

    /// How far a view reaches along it.
    pub(crate) fn size(self, view: &FaceView) -> f64 {
        self.of(Point::new(view.width, view.height))
    }

    /// The sides where it begins and ends.
    pub(crate) fn sides(self) -> (Edge, Edge) {
        match self {
            Axis::Across => (Edge::Left, Edge::Right),
            Axis::Upward => (Edge::Bottom, Edge::Top),
        }
    }

    /// How far a coordinate along it lies inside of one of its sides.
    pub(crate) fn distance(self, view: &FaceView, side: Edge, along: f64) -> f64 {
        distance(view, side, self.point(along, 0.0))
    }

    /// The side from which distances along it run, on either face: that toward the front, the floor and the left of the
    /// whole, so that parts that share holes are measured from the same end. The other one of a handed pair is measured from
    /// the mirrored side. A part without a place is measured from its own left and bottom edge.
    pub(crate) fn datum(self, view: &FaceView) -> Edge {
        let part = &view.workpiece.part;
        let (low, high) = self.sides();
        let is_datum = |side: Edge| {
            let edge = view.physical(side);
            let Some(place) = part.places.first() else {
                let left = if part.is_mirrored() {
                    Edge::Right
                } else {
                    Edge::Left
                };
                return edge == left || edge == Edge::Bottom;
            };
            // A mirror image is drawn as it is, so it stands in its place as any other part does.
            let body = Body::new(*place, [part.width, part.height, part.thickness()], false);
            match body.looks(Side::Edge(edge)) {
                Direction::Front | Direction::Down => true,
                Direction::Left => !part.is_mirrored(),
                Direction::Right => part.is_mirrored(),
                Direction::Back | Direction::Up => false,
            }
        };
        if is_datum(low) { low } else { high }
    }
}
