//! A point of the plane, also used as a vector.

use std::ops::{Add, Mul, Neg, Sub};

/// A point or vector in millimetres, x to the right and y upward.
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Upward.
    pub y: f64,
}

impl Point {
    /// A point from its coordinates.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The point at `angle` (radians, counter-clockwise from the x axis) and distance `radius` from the origin.
    pub fn polar(radius: f64, angle: f64) -> Self {
        Self::new(radius * angle.cos(), radius * angle.sin())
    }

    /// Distance from the origin.
    pub fn length(self) -> f64 {
        self.x.hypot(self.y)
    }

    /// Distance to another point.
    pub fn distance(self, other: Point) -> f64 {
        (other - self).length()
    }

    /// Direction as an angle in radians, counter-clockwise from the x axis, in -pi..=pi.
    pub fn angle(self) -> f64 {
        self.y.atan2(self.x)
    }

    /// Scalar product.
    pub fn dot(self, other: Point) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Signed area of the parallelogram of two vectors; positive when `other` is to the left.
    pub fn cross(self, other: Point) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// The vector turned a quarter to the left.
    #[must_use]
    pub fn left(self) -> Point {
        Point::new(-self.y, self.x)
    }

    /// The vector turned counter-clockwise by so many quarters of a full turn, exactly.
    #[must_use]
    pub fn turned(self, quarters: u8) -> Point {
        match quarters % 4 {
            0 => self,
            1 => self.left(),
            2 => -self,
            _ => -self.left(),
        }
    }

    /// The vector of length 1 in the same direction; the zero vector stays as it is.
    #[must_use]
    pub fn unit(self) -> Point {
        let length = self.length();
        if length == 0.0 {
            self
        } else {
            self * (1.0 / length)
        }
    }

    /// The point `share` of the way to `other`: 0 is here, 1 is there.
    #[must_use]
    pub fn toward(self, other: Point, share: f64) -> Point {
        self + (other - self) * share
    }

    /// Whether both coordinates are numbers and finite.
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl Add for Point {
    type Output = Point;
    fn add(self, other: Point) -> Point {
        Point::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Point {
    type Output = Point;
    fn sub(self, other: Point) -> Point {
        Point::new(self.x - other.x, self.y - other.y)
    }
}

impl Mul<f64> for Point {
    type Output = Point;
    fn mul(self, factor: f64) -> Point {
        Point::new(self.x * factor, self.y * factor)
    }
}

impl Neg for Point {
    type Output = Point;
    fn neg(self) -> Point {
        Point::new(-self.x, -self.y)
    }
}
