//! The upright box around a shape.

use super::Point;

/// An upright rectangle, given by its lower left and upper right corner, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Bounds {
    /// Lower left corner.
    pub min: Point,
    /// Upper right corner.
    pub max: Point,
}

impl Bounds {
    /// The box of two opposite corners, in any order.
    pub fn new(a: Point, b: Point) -> Self {
        Self {
            min: Point::new(a.x.min(b.x), a.y.min(b.y)),
            max: Point::new(a.x.max(b.x), a.y.max(b.y)),
        }
    }

    /// The box from the origin to `width` and `height`.
    pub fn of_size(width: f64, height: f64) -> Self {
        Self::new(Point::default(), Point::new(width, height))
    }

    /// The box around a point, `radius` to every side.
    pub fn around(centre: Point, radius: f64) -> Self {
        let reach = Point::new(radius, radius);
        Self::new(centre - reach, centre + reach)
    }

    /// The smallest box around some points; `None` without any.
    pub fn of_points(points: impl IntoIterator<Item = Point>) -> Option<Self> {
        points
            .into_iter()
            .map(|p| Bounds::new(p, p))
            .reduce(Bounds::union)
    }

    /// The smallest box around both.
    #[must_use]
    pub fn union(self, other: Bounds) -> Bounds {
        Bounds {
            min: Point::new(self.min.x.min(other.min.x), self.min.y.min(other.min.y)),
            max: Point::new(self.max.x.max(other.max.x), self.max.y.max(other.max.y)),
        }
    }

    /// What both have in common; `None` where they are apart.
    #[must_use]
    pub fn intersection(self, other: Bounds) -> Option<Bounds> {
        let min = Point::new(self.min.x.max(other.min.x), self.min.y.max(other.min.y));
        let max = Point::new(self.max.x.min(other.max.x), self.max.y.min(other.max.y));
        (min.x <= max.x && min.y <= max.y).then_some(Bounds { min, max })
    }

    /// The box with every side moved outward by `distance` (inward where negative; never past its centre).
    #[must_use]
    pub fn grown(self, distance: f64) -> Bounds {
        let dx = distance.max(-self.width() / 2.0);
        let dy = distance.max(-self.height() / 2.0);
        Bounds {
            min: Point::new(self.min.x - dx, self.min.y - dy),
            max: Point::new(self.max.x + dx, self.max.y + dy),
        }
    }

    /// The box moved by a vector.
    #[must_use]
    pub fn moved(self, by: Point) -> Bounds {
        Bounds {
            min: self.min + by,
            max: self.max + by,
        }
    }

    /// Extent to the right.
    pub fn width(self) -> f64 {
        self.max.x - self.min.x
    }

    /// Extent upward.
    pub fn height(self) -> f64 {
        self.max.y - self.min.y
    }

    /// The point in the middle.
    pub fn centre(self) -> Point {
        self.min.toward(self.max, 0.5)
    }

    /// Whether the point is inside or on the border, within `tolerance`.
    pub fn contains(self, point: Point, tolerance: f64) -> bool {
        point.x >= self.min.x - tolerance
            && point.x <= self.max.x + tolerance
            && point.y >= self.min.y - tolerance
            && point.y <= self.max.y + tolerance
    }

    /// Whether the other box is inside this one or touches it from inside, within `tolerance`.
    pub fn contains_box(self, other: Bounds, tolerance: f64) -> bool {
        self.contains(other.min, tolerance) && self.contains(other.max, tolerance)
    }

    /// Whether the two boxes have more than `tolerance` in common in both directions.
    pub fn overlaps(self, other: Bounds, tolerance: f64) -> bool {
        self.min.x + tolerance < other.max.x
            && other.min.x + tolerance < self.max.x
            && self.min.y + tolerance < other.max.y
            && other.min.y + tolerance < self.max.y
    }
}
