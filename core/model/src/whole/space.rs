//! Boxes and directions in the whole: x to the right, y upward, z toward the viewer, in millimetres.

use crate::geom::Point;
use crate::side::{Edge, Face};

/// A point or vector of the whole, in millimetres.
pub type Triple = [f64; 3];

/// Lengths in the whole that differ by less are the same, in millimetres.
pub const MEETS: f64 = 1e-6;

crate::words! {
    /// One of the six directions of the whole.
    #[derive(Hash, serde::Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum Direction {
        /// x grows.
        Right = "right",
        /// x falls.
        Left = "left",
        /// y grows.
        Up = "up",
        /// y falls.
        Down = "down",
        /// z grows: toward the viewer.
        Front = "front",
        /// z falls: away from the viewer.
        Back = "back",
    }
}

impl Direction {
    /// Number of the axis: 0 for x, 1 for y, 2 for z.
    pub const fn axis(self) -> usize {
        match self {
            Direction::Right | Direction::Left => 0,
            Direction::Up | Direction::Down => 1,
            Direction::Front | Direction::Back => 2,
        }
    }

    /// 1 along the axis, -1 against it.
    pub const fn sign(self) -> f64 {
        match self {
            Direction::Right | Direction::Up | Direction::Front => 1.0,
            Direction::Left | Direction::Down | Direction::Back => -1.0,
        }
    }

    /// The direction of an axis and a sign.
    pub const fn along(axis: usize, sign: f64) -> Self {
        match (axis, sign > 0.0) {
            (0, true) => Direction::Right,
            (0, false) => Direction::Left,
            (1, true) => Direction::Up,
            (1, false) => Direction::Down,
            (_, true) => Direction::Front,
            (_, false) => Direction::Back,
        }
    }

    /// The direction with its axis turned over when it is `axis`.
    #[must_use]
    pub const fn mirrored(self, axis: usize) -> Self {
        if self.axis() == axis {
            Self::along(axis, -self.sign())
        } else {
            self
        }
    }

    /// The direction that makes a right-handed set with this one and the next: the cross product.
    #[must_use]
    pub const fn cross(self, other: Direction) -> Direction {
        let third = 3 - self.axis() - other.axis();
        // x to y, y to z and z to x run forward.
        let forward = (self.axis() + 1) % 3 == other.axis();
        let sign = self.sign() * other.sign();
        Direction::along(third, if forward { sign } else { -sign })
    }
}

/// An upright box of the whole.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Box3 {
    /// The corner nearest left, bottom and back.
    pub min: Triple,
    /// The corner opposite.
    pub max: Triple,
}

/// Pieces on their way past each other that overlap by less, in millimetres, only graze.
pub const GRAZES: f64 = 0.6;

impl Box3 {
    /// The box of two opposite corners, in any order.
    pub fn new(a: Triple, b: Triple) -> Self {
        let each = |pick: fn(f64, f64) -> f64| [0, 1, 2].map(|i| pick(a[i], b[i]));
        Self {
            min: each(f64::min),
            max: each(f64::max),
        }
    }

    /// Extent along an axis.
    pub fn size(self, axis: usize) -> f64 {
        self.max[axis] - self.min[axis]
    }

    /// What both have in common; sizes are negative where they are apart.
    #[must_use]
    pub fn common(self, other: Box3) -> Box3 {
        Box3 {
            min: [0, 1, 2].map(|i| self.min[i].max(other.min[i])),
            max: [0, 1, 2].map(|i| self.max[i].min(other.max[i])),
        }
    }

    /// Whether the two have a body in common, more than `tolerance` in every direction.
    pub fn overlaps(self, other: Box3, tolerance: f64) -> bool {
        let common = self.common(other);
        (0..3).all(|axis| common.size(axis) > tolerance)
    }

    /// Whether it runs into another one on its way out: across the way they overlap by more than [`GRAZES`], and the
    /// other reaches further ahead. What only reaches into it from behind, in a rebate or housing, lets it go.
    pub fn runs_into(self, other: Box3, way: Direction) -> bool {
        let axis = way.axis();
        let common = self.common(other);
        let across = (0..3)
            .filter(|i| *i != axis)
            .all(|i| common.size(i) > GRAZES);
        let ahead = if way.sign() > 0.0 {
            other.max[axis] - self.max[axis]
        } else {
            self.min[axis] - other.min[axis]
        };
        across && ahead > GRAZES
    }

    /// Whether a straight line runs through it, more than `tolerance` within each pair of its sides.
    pub fn is_crossed(self, from: Triple, to: Triple, tolerance: f64) -> bool {
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for axis in 0..3 {
            let run = to[axis] - from[axis];
            let (low, high) = (self.min[axis] + tolerance, self.max[axis] - tolerance);
            if run.abs() < f64::EPSILON {
                if from[axis] < low || from[axis] > high {
                    return false;
                }
                continue;
            }
            let (a, b) = ((low - from[axis]) / run, (high - from[axis]) / run);
            (enters, leaves) = (enters.max(a.min(b)), leaves.min(a.max(b)));
        }
        enters < leaves
    }

    /// The greatest distance between the two along one axis; 0 or less where they touch or overlap.
    pub fn apart(self, other: Box3) -> f64 {
        let common = self.common(other);
        (0..3)
            .map(|axis| -common.size(axis))
            .fold(f64::MIN, f64::max)
    }

    /// The smallest box around both.
    #[must_use]
    pub fn union(self, other: Box3) -> Box3 {
        Box3 {
            min: [0, 1, 2].map(|i| self.min[i].min(other.min[i])),
            max: [0, 1, 2].map(|i| self.max[i].max(other.max[i])),
        }
    }

    /// The point in the middle.
    pub fn centre(self) -> Triple {
        [0, 1, 2].map(|i| f64::midpoint(self.min[i], self.max[i]))
    }

    /// Whether a point is inside, away from the border by more than `margin`.
    pub fn holds(self, point: Triple, margin: f64) -> bool {
        (0..3).all(|i| point[i] > self.min[i] + margin && point[i] < self.max[i] - margin)
    }

    /// Volume in cubic millimetres.
    pub fn volume(self) -> f64 {
        (0..3).map(|axis| self.size(axis).max(0.0)).product()
    }
}

/// Where a part is in the whole.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Placement {
    /// The corner of the part's box nearest left, bottom and back.
    pub at: Triple,
    /// Where the part's x runs.
    pub width: Direction,
    /// Where the part's y runs.
    pub height: Direction,
}

impl Placement {
    /// Where the front face looks, for a part that is not a mirror image: right-handed.
    pub fn front(self) -> Direction {
        self.width.cross(self.height)
    }

    /// The place of the mirror image of a part, in a mirror square to the x axis at `plane`. The image is a part of its
    /// own, drawn looking at its front face, so its width runs the other way along the same line.
    #[must_use]
    pub fn mirrored_right(self, plane: f64, extent: f64) -> Placement {
        // A front face that looks right looks left in the mirror; what ran up, forward or right on it is seen from the
        // other side, and the drawing is turned over left to right: both turn x about, so only directions along x
        // change twice.
        Placement {
            at: [2.0 * plane - self.at[0] - extent, self.at[1], self.at[2]],
            width: Direction::along(
                self.width.axis(),
                if self.width.axis() == 0 {
                    self.width.sign()
                } else {
                    -self.width.sign()
                },
            ),
            height: self.height.mirrored(0),
        }
    }
}

/// One of the six sides of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// A broad face.
    Face(Face),
    /// An edge.
    Edge(Edge),
}

impl Side {
    /// Its name, for messages: `front face`, `left edge`.
    pub fn describe(self) -> String {
        match self {
            Side::Face(face) => format!("{} face", face.name()),
            Side::Edge(edge) => format!("{} edge", edge.name()),
        }
    }
}

/// A part's box in the whole, and the way between its own coordinates and those of the whole.
///
/// The coordinates of a mirror image are those of the part that the plan describes, so that work found on either of a
/// handed pair can be written down in one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    /// The place of lower left corner of the front face.
    origin: Triple,
    x: Direction,
    y: Direction,
    front: Direction,
    /// Sizes along x and y and from front to back.
    size: Triple,
}

impl Body {
    /// The body of a part of a size (width, height, thickness) at a place. `image` says that it is the mirrored one of
    /// a handed pair.
    pub fn new(place: Placement, size: Triple, image: bool) -> Self {
        let front = place.front();
        let x = if image {
            place.width.mirrored(place.width.axis())
        } else {
            place.width
        };
        let mut origin = place.at;
        // The corner where all three of the part's own coordinates are 0.
        for (direction, extent) in [(x, size[0]), (place.height, size[1])] {
            if direction.sign() < 0.0 {
                origin[direction.axis()] += extent;
            }
        }
        if front.sign() > 0.0 {
            origin[front.axis()] += size[2];
        }
        Self {
            origin,
            x,
            y: place.height,
            front,
            size,
        }
    }

    /// A body that is given by where its lower left corner is and where its axes run.
    pub fn of_axes(
        origin: Triple,
        x: Direction,
        y: Direction,
        front: Direction,
        size: Triple,
    ) -> Self {
        Self {
            origin,
            x,
            y,
            front,
            size,
        }
    }

    /// A point of the whole from the part's x, y and depth below the front face.
    pub fn to_whole(&self, x: f64, y: f64, depth: f64) -> Triple {
        let mut point = self.origin;
        point[self.x.axis()] += self.x.sign() * x;
        point[self.y.axis()] += self.y.sign() * y;
        point[self.front.axis()] -= self.front.sign() * depth;
        point
    }

    /// x, y and depth below the front face of a point of the whole.
    pub fn to_part(&self, point: Triple) -> (Point, f64) {
        let along = |direction: Direction| {
            direction.sign() * (point[direction.axis()] - self.origin[direction.axis()])
        };
        (Point::new(along(self.x), along(self.y)), -along(self.front))
    }

    /// The box.
    pub fn bounds(&self) -> Box3 {
        Box3::new(
            self.origin,
            self.to_whole(self.size[0], self.size[1], self.size[2]),
        )
    }

    /// Width, height and thickness.
    pub fn size(&self) -> Triple {
        self.size
    }

    /// The side that looks in a direction.
    pub fn side(&self, direction: Direction) -> Side {
        if direction == self.front {
            Side::Face(Face::Front)
        } else if direction.axis() == self.front.axis() {
            Side::Face(Face::Back)
        } else if direction == self.x {
            Side::Edge(Edge::Right)
        } else if direction.axis() == self.x.axis() {
            Side::Edge(Edge::Left)
        } else if direction == self.y {
            Side::Edge(Edge::Top)
        } else {
            Side::Edge(Edge::Bottom)
        }
    }

    /// Where a side looks.
    pub fn looks(&self, side: Side) -> Direction {
        let turned = |direction: Direction| direction.mirrored(direction.axis());
        match side {
            Side::Face(Face::Front) => self.front,
            Side::Face(Face::Back) => turned(self.front),
            Side::Edge(Edge::Right) => self.x,
            Side::Edge(Edge::Left) => turned(self.x),
            Side::Edge(Edge::Top) => self.y,
            Side::Edge(Edge::Bottom) => turned(self.y),
        }
    }

    /// The axis of the whole along which the part is thick.
    pub fn thick_axis(&self) -> usize {
        self.front.axis()
    }

    /// The axis of the whole along which the part's x runs.
    pub fn x_axis(&self) -> usize {
        self.x.axis()
    }
}

#[cfg(test)]
mod tests {
    #![expect(clippy::float_cmp, reason = "whole numbers of millimetres stay exact")]

    use super::*;

    #[test]
    fn the_axes_are_right_handed() {
        assert_eq!(Direction::Right.cross(Direction::Up), Direction::Front);
        assert_eq!(Direction::Up.cross(Direction::Front), Direction::Right);
        assert_eq!(Direction::Front.cross(Direction::Right), Direction::Up);
        // A left side seen on its inside: its width runs back, its height up, and it looks right.
        assert_eq!(Direction::Back.cross(Direction::Up), Direction::Right);
    }

    /// A side 400 deep, 900 high and 18 thick; its front edge is the left one of the drawing.
    #[test]
    fn a_left_side_and_its_image_hold_the_same_work_mirrored() {
        let place = Placement {
            at: [0.0, 0.0, 0.0],
            width: Direction::Back,
            height: Direction::Up,
        };
        let size = [400.0, 900.0, 18.0];
        let left = Body::new(place, size, false);
        assert_eq!(left.bounds().max, [18.0, 900.0, 400.0]);
        // 37 from the front edge, 100 up, on the inside: z = 400 - 37.
        assert_eq!(left.to_whole(37.0, 100.0, 0.0), [18.0, 100.0, 363.0]);
        let image = place.mirrored_right(300.0, 18.0);
        assert_eq!(image.at, [582.0, 0.0, 0.0]);
        assert_eq!(image.width, Direction::Front);
        assert_eq!(image.front(), Direction::Left);
        let right = Body::new(image, size, true);
        // The same place on the image, in the coordinates of the part that the plan describes.
        assert_eq!(right.to_whole(37.0, 100.0, 0.0), [582.0, 100.0, 363.0]);
        assert_eq!(
            right.to_part([582.0, 100.0, 363.0]),
            (Point::new(37.0, 100.0), 0.0)
        );
        assert_eq!(right.side(Direction::Left), Side::Face(Face::Front));
        assert_eq!(right.side(Direction::Front), Side::Edge(Edge::Left));
    }
}
