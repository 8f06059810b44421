//! Parallels of closed paths, on which arcs stay arcs.

use cavalier_contours::polyline::PlineSource;

use super::polyline::{from_polyline, to_polyline};
use super::{Arc, LENGTH_TOLERANCE, Path, Point, Vertex};

impl Path {
    /// The parallels of a closed path at `distance` millimetres outside it, or inside where negative: where a tool of
    /// twice that diameter runs. Outside corners are rounded, so that a tool keeps its distance from them.
    ///
    /// A path may vanish or fall apart: there are as many parallels as are left, each with the sense of travel of the
    /// path, in a fixed order. Openings are paths, too: `distance` is positive away from the area that the path holds,
    /// whichever way it runs.
    #[must_use]
    pub fn parallels(&self, distance: f64) -> Vec<Path> {
        if distance == 0.0 {
            return vec![self.clone()];
        }
        // A circle stays one, whatever a general method makes of its two halves.
        if let Some((centre, radius)) = self.as_circle() {
            let radius = radius + distance;
            if radius <= LENGTH_TOLERANCE {
                return Vec::new();
            }
            let grown = super::circle(centre, radius);
            return vec![grown.normalised(self.area() > 0.0)];
        }
        let runs_counter_clockwise = self.area() > 0.0;
        // The library takes a positive distance to the left of the path, which is inside a counter-clockwise one.
        let to_the_left = if runs_counter_clockwise {
            -distance
        } else {
            distance
        };
        let mut found: Vec<Path> = to_polyline(self)
            .parallel_offset(to_the_left)
            .iter()
            .map(from_polyline)
            .filter(|path| path.area().abs() > LENGTH_TOLERANCE)
            .map(|path| path.normalised(runs_counter_clockwise))
            .collect();
        found.sort_by(|a, b| b.area().abs().total_cmp(&a.area().abs()));
        found
    }

    /// The path with every arc no longer than `longest` millimetres, between two straight lines, replaced by the corner
    /// in which the lines meet.
    ///
    /// Parallels at a small distance have such arcs around every outside corner, too short for a machine to follow.
    #[must_use]
    pub fn with_sharp_corners(&self, longest: f64) -> Path {
        let mut vertices = self.vertices.clone();
        let mut i = 0;
        while self.closed && i < vertices.len() && vertices.len() > 3 {
            let count = vertices.len();
            let at = |k: usize| vertices[(i + k) % count];
            let (before, start, end, after) = (at(count - 1), at(0), at(1), at(2));
            let is_corner = start.bulge != 0.0 && before.bulge == 0.0 && end.bulge == 0.0;
            let arc = Arc {
                from: start.point,
                to: end.point,
                bulge: start.bulge,
            };
            let corner = if is_corner && arc.length() <= longest {
                meeting(before.point, start.point, end.point, after.point)
            } else {
                None
            };
            match corner {
                Some(point) => {
                    vertices[i] = Vertex { point, bulge: 0.0 };
                    vertices.remove((i + 1) % count);
                }
                None => i += 1,
            }
        }
        Path {
            vertices,
            closed: self.closed,
        }
    }

    /// The path turned counter-clockwise about the origin by so many quarters of a full turn.
    #[must_use]
    pub fn turned(&self, quarters: u8) -> Path {
        let vertices = self
            .vertices
            .iter()
            .map(|v| Vertex {
                point: v.point.turned(quarters),
                bulge: v.bulge,
            })
            .collect();
        Path {
            vertices,
            closed: self.closed,
        }
    }
}

/// Where the line from `a` to `b`, gone on, meets the line from `d` to `c`, gone on; `None` where they do not.
fn meeting(a: Point, b: Point, c: Point, d: Point) -> Option<Point> {
    let (u, v) = ((b - a).unit(), (c - d).unit());
    let cross = u.cross(v);
    // Nearly parallel lines meet far away.
    (cross.abs() > 0.1).then(|| b + u * ((c - b).cross(v) / cross))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Bounds, circle, rectangle};
    use proptest::prelude::*;
    use std::f64::consts::PI;

    fn triangle() -> Path {
        Path::of_points(
            [(2.0, 2.0), (-2.0, -1.0), (2.0, -1.0)].map(|(x, y)| Point::new(x, y)),
            true,
        )
    }

    fn one(path: &Path, distance: f64) -> Path {
        let mut found = path.parallels(distance);
        assert_eq!(found.len(), 1, "{found:?}");
        found.remove(0)
    }

    /// NIST IR 6556 (2000), Appendix B: Tables 12 and 13 are the outward parallels at 1.0 and 1.5 of the triangle with
    /// sides 3, 4 and 5; area and length by Steiner's formula, A + P d + pi d^2 and P + 2 pi d.
    #[test]
    fn parallels_of_the_published_triangle() {
        for (distance, area, length) in [
            (1.0, 18.0 + PI, 12.0 + 2.0 * PI),
            (1.5, 24.0 + 2.25 * PI, 12.0 + 3.0 * PI),
            // The inscribed circle has radius 1: 6 (1 - d)^2 and 12 (1 - d), elementary.
            (-0.5, 1.5, 6.0),
        ] {
            let path = one(&triangle(), distance);
            assert!((path.area() - area).abs() < 1e-9, "{distance}");
            assert!((path.length() - length).abs() < 1e-9, "{distance}");
        }
        let table_13 = one(&one(&triangle(), 1.0), 0.5);
        assert!((table_13.area() - 31.068_583_47).abs() < 1e-6);
        assert!((table_13.length() - 21.424_777_96).abs() < 1e-6);
        assert!(triangle().parallels(-1.001).is_empty());
    }

    #[test]
    fn openings_grow_and_shrink_by_their_area_and_not_by_their_sense() {
        let opening = rectangle(Bounds::of_size(40.0, 30.0)).reversed();
        let smaller = one(&opening, -0.1);
        assert!((smaller.area() + 39.8 * 29.8).abs() < 1e-9);
        let hole = circle(Point::new(3.0, 4.0), 5.0).reversed();
        let smaller = one(&hole, -0.1);
        assert_eq!(
            smaller.as_circle().map(|(_, r)| (r * 1e9).round()),
            Some(4.9e9)
        );
        assert!(smaller.area() < 0.0);
    }

    /// Elementary: a square-cornered parallel of a rectangle holds (a + 2d)(b + 2d).
    #[test]
    fn short_arcs_become_corners() {
        let path = one(&rectangle(Bounds::of_size(40.0, 30.0)), 0.02);
        assert_eq!(path.vertices.len(), 8);
        let sharp = path.with_sharp_corners(0.05);
        assert_eq!(sharp.vertices.len(), 4);
        assert!((sharp.area() - 40.04 * 30.04).abs() < 1e-9);
        assert_eq!(path.with_sharp_corners(0.01), path);
    }

    proptest! {
        /// Steiner's formula for a convex body, here a rectangle.
        #[test]
        fn outward_parallels_of_rectangles(
            w in 1.0..500.0f64, h in 1.0..500.0f64, d in 0.01..50.0f64, quarters in 0u8..4,
        ) {
            let path = one(&rectangle(Bounds::of_size(w, h)).turned(quarters), d);
            let (area, length) = (w * h + 2.0 * (w + h) * d + PI * d * d, 2.0 * (w + h) + 2.0 * PI * d);
            prop_assert!((path.area() - area).abs() < 1e-6);
            prop_assert!((path.length() - length).abs() < 1e-6);
        }
    }
}
