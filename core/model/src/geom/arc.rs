//! A circular arc between two points.

use std::f64::consts::TAU;

use super::{Bounds, Point};

/// A circular arc, held as its ends and its bulge.
///
/// The bulge is the tangent of a quarter of the included angle, positive when the arc turns counter-clockwise from
/// `from` to `to` (DXF Reference, VERTEX, group code 42): 0 is straight, 1 is a half circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// First end.
    pub from: Point,
    /// Last end.
    pub to: Point,
    /// Tangent of a quarter of the included angle; never 0 here.
    pub bulge: f64,
}

impl Arc {
    /// The bulge of an included angle in radians; positive angles turn counter-clockwise.
    pub fn bulge_of_sweep(sweep: f64) -> f64 {
        (sweep / 4.0).tan()
    }

    /// Included angle in radians; positive when counter-clockwise.
    pub fn sweep(&self) -> f64 {
        4.0 * self.bulge.atan()
    }

    /// Radius in millimetres: c (1 + b^2) / (4 |b|) for a chord c.
    pub fn radius(&self) -> f64 {
        let chord = self.from.distance(self.to);
        chord * (1.0 + self.bulge * self.bulge) / (4.0 * self.bulge.abs())
    }

    /// Centre of the circle.
    pub fn centre(&self) -> Point {
        let half = (self.to - self.from) * 0.5;
        let b = self.bulge;
        // Distance from the chord to the centre over half the chord, positive to the left.
        self.from + half + half.left() * ((1.0 - b * b) / (2.0 * b))
    }

    /// Angle of the first end as seen from the centre, in radians.
    pub fn start_angle(&self) -> f64 {
        (self.from - self.centre()).angle()
    }

    /// Length along the arc.
    pub fn length(&self) -> f64 {
        self.radius() * self.sweep().abs()
    }

    /// Signed area between the chord and the arc; positive when counter-clockwise.
    pub fn segment_area(&self) -> f64 {
        let sweep = self.sweep();
        let radius = self.radius();
        radius * radius / 2.0 * (sweep - sweep.sin())
    }

    /// The point at a share of the way along, from 0 to 1.
    pub fn point_at(&self, share: f64) -> Point {
        if share <= 0.0 {
            return self.from;
        }
        if share >= 1.0 {
            return self.to;
        }
        self.centre() + Point::polar(self.radius(), self.start_angle() + self.sweep() * share)
    }

    /// Whether the direction `angle` (radians, from the centre) lies within the arc.
    pub fn covers_angle(&self, angle: f64) -> bool {
        let sweep = self.sweep();
        let turned = if sweep >= 0.0 {
            (angle - self.start_angle()).rem_euclid(TAU)
        } else {
            (self.start_angle() - angle).rem_euclid(TAU)
        };
        turned <= sweep.abs() + 1e-12
    }

    /// The box around the arc.
    pub fn bounds(&self) -> Bounds {
        let centre = self.centre();
        let radius = self.radius();
        let chord = self.to - self.from;
        [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)]
            .into_iter()
            .map(|(x, y)| centre + Point::new(x, y) * radius)
            // Of the two parts into which the chord cuts its circle, the counter-clockwise one lies on the right.
            .filter(|&point| chord.cross(point - self.from) * self.bulge <= 0.0)
            .map(|point| Bounds::new(point, point))
            .fold(Bounds::new(self.from, self.to), Bounds::union)
    }

    /// Straight pieces that stay within `chord_error` millimetres of the arc, as the points after `from`.
    pub fn flattened(&self, chord_error: f64) -> Vec<Point> {
        let radius = self.radius();
        let step = 2.0 * (1.0 - (chord_error / radius).min(1.0)).acos();
        let pieces = if step > 0.0 {
            (self.sweep().abs() / step).ceil().clamp(1.0, 4096.0)
        } else {
            4096.0
        };
        let count = pieces as usize;
        (1..=count)
            .map(|i| self.point_at(i as f64 / count as f64))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(a: f64, b: f64, tolerance: f64) {
        assert!((a - b).abs() <= tolerance, "{a} is not {b}");
    }

    /// DXF Reference, VERTEX, group code 42: bulge 1 is a semicircle. The fixture (0,0) with bulge 1 to (2,0) is a
    /// semicircle of radius 1 (public question 49419366); counter-clockwise, so it lies below the chord.
    #[test]
    fn a_bulge_of_one_is_a_semicircle() {
        let arc = Arc {
            from: Point::new(0.0, 0.0),
            to: Point::new(2.0, 0.0),
            bulge: 1.0,
        };
        close(arc.radius(), 1.0, 1e-15);
        close(arc.sweep().to_degrees(), 180.0, 1e-12);
        close(arc.centre().distance(Point::new(1.0, 0.0)), 0.0, 1e-15);
        close(arc.bounds().min.y, -1.0, 1e-15);
    }

    /// Bulges by included angle: 120 degrees is published in Madsen (2003); the others follow from the definition in
    /// the DXF Reference and from the arcs of NIST IR 6556, Tables 12 and 13.
    #[test]
    fn bulges_of_known_angles() {
        for (degrees, bulge) in [
            (90.0_f64, 0.414_213_562),
            (120.0, 0.577_350_269),
            (180.0, 1.0),
            (143.130_102, 0.720_759_220),
            (36.869_898, 0.162_277_660),
        ] {
            close(Arc::bulge_of_sweep(degrees.to_radians()), bulge, 1e-8);
        }
    }

    /// NIST IR 6556, 3.5.3.2: from (7,7) clockwise to (10,16) about I3 J4 gives centre (10,11) and radius 5.
    #[test]
    fn the_worked_centre_format_arc() {
        let arc = Arc {
            from: Point::new(7.0, 7.0),
            to: Point::new(10.0, 16.0),
            bulge: -0.720_759_220_056_126_4,
        };
        close(arc.centre().distance(Point::new(10.0, 11.0)), 0.0, 1e-12);
        close(arc.radius(), 5.0, 1e-12);
        close(arc.sweep().to_degrees(), -143.130_102_354, 1e-9);
        close(arc.length(), 12.490_457_723_982_544, 1e-9);
    }

    /// Elementary: s = r (1 - cos(theta/2)), so a chord error e needs pi / acos(1 - e/r) pieces around a circle; for
    /// r = 17.5 and e = 0.01 that is at least 93.
    #[test]
    fn flattening_keeps_the_chord_error() {
        let half = Arc {
            from: Point::new(-17.5, 0.0),
            to: Point::new(17.5, 0.0),
            bulge: 1.0,
        };
        let pieces = half.flattened(0.01);
        assert!(pieces.len() * 2 >= 93, "{}", pieces.len());
        for pair in pieces.windows(2) {
            let middle = pair[0].toward(pair[1], 0.5);
            assert!(17.5 - middle.length() <= 0.01 + 1e-9);
        }
    }
}
