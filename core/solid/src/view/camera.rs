//! From where the whole is looked at, and how it comes to lie on paper.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

use jigless_model::geom::Point;
use jigless_model::whole::Triple;

use crate::vector::{cross, dot};

/// A view along parallel lines onto a plane square to them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Camera {
    /// What points to the right on paper.
    pub right: Triple,
    /// What points up on paper.
    pub up: Triple,
    /// Toward whoever looks.
    pub toward: Triple,
}

impl Camera {
    /// As seen by someone who stands before the front, walks `azimuth` radians around it to the right, and looks down at
    /// an angle of `elevation` radians.
    pub fn axonometric(azimuth: f64, elevation: f64) -> Self {
        let ((sa, ca), (se, ce)) = (azimuth.sin_cos(), elevation.sin_cos());
        let toward = [sa * ce, se, ca * ce];
        let right = [ca, 0.0, -sa];
        Self {
            right,
            up: cross(toward, right),
            toward,
        }
    }

    /// All three axes foreshortened alike and 120 degrees apart (ISO 5456-3, from memory): 45 degrees around, and as far
    /// up as makes it so, whose sine is the root of a third.
    pub fn isometric() -> Self {
        Self::axonometric(FRAC_PI_4, (1.0_f64 / 3.0).sqrt().asin())
    }

    /// Width and height to one scale, depth to half of it (ISO 5456-3, from memory: axes at 7 and 42 degrees). By
    /// arithmetic: the squares of the three scales sum to 2, so they are root 8/9, root 8/9 and half of that.
    pub fn dimetric() -> Self {
        let elevation = (8.0_f64 / 9.0).sqrt().acos();
        Self::axonometric(0.125_f64.sqrt().asin(), elevation)
    }

    /// From before.
    pub fn front() -> Self {
        Self::axonometric(0.0, 0.0)
    }

    /// From the left, as first-angle projection draws it on the right of the front view (ISO 128).
    pub fn left() -> Self {
        Self::axonometric(-FRAC_PI_2, 0.0)
    }

    /// From the right.
    pub fn right_side() -> Self {
        Self::axonometric(FRAC_PI_2, 0.0)
    }

    /// From above, the front at the bottom.
    pub fn top() -> Self {
        Self::axonometric(0.0, FRAC_PI_2)
    }

    /// Where a point comes to lie on paper, in millimetres of the thing.
    pub fn paper(&self, point: Triple) -> Point {
        Point::new(dot(self.right, point), dot(self.up, point))
    }

    /// How near a point is to whoever looks, in millimetres.
    pub fn nearness(&self, point: Triple) -> f64 {
        dot(self.toward, point)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 5456-3 (from memory): isometric ratios 1:1:1, each 0.8165 of the true length; dimetric 1:1:1/2 with the axes
    /// at 7 and 42 degrees, which are 7.18 and 41.41 in true projection.
    #[test]
    fn a_unit_cube_comes_out_as_the_standard_says() {
        let axes = |camera: Camera| {
            [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]].map(|axis| camera.paper(axis))
        };
        for axis in axes(Camera::isometric()) {
            assert!((axis.length() - 0.816_497).abs() < 1e-6);
        }
        let [x, y, z] = axes(Camera::dimetric());
        assert!((x.length() - y.length()).abs() < 1e-12);
        assert!((z.length() / x.length() - 0.5).abs() < 1e-12);
        assert!((x.angle().to_degrees().abs() - 7.18).abs() < 0.01);
        assert!(((-z.y).atan2(z.x.abs()).to_degrees() - 41.41).abs() < 0.01);
    }

    #[test]
    fn square_views_show_true_lengths() {
        for camera in [
            Camera::front(),
            Camera::left(),
            Camera::right_side(),
            Camera::top(),
        ] {
            let seen = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
                .map(|axis| camera.paper(axis).length());
            let true_ones = seen
                .iter()
                .filter(|length| (**length - 1.0).abs() < 1e-12)
                .count();
            assert_eq!(true_ones, 2);
        }
    }
}
