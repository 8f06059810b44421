//! A run of lines and arcs, open or closed.

use super::{Arc, Bounds, LENGTH_TOLERANCE, Point};

/// A corner of a path and the bulge of the segment that leaves it (see [`Arc`] for the bulge's sign).
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Vertex {
    /// Where it is.
    pub point: Point,
    /// Bulge of the segment to the next vertex; 0 for a straight line.
    pub bulge: f64,
}

/// One piece of a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// A straight line from one point to another.
    Line(Point, Point),
    /// A circular arc.
    Arc(Arc),
}

impl Segment {
    fn new(vertex: Vertex, to: Point) -> Self {
        if vertex.bulge == 0.0 {
            Segment::Line(vertex.point, to)
        } else {
            Segment::Arc(Arc {
                from: vertex.point,
                to,
                bulge: vertex.bulge,
            })
        }
    }

    /// First end.
    pub fn from(&self) -> Point {
        match self {
            Segment::Line(from, _) => *from,
            Segment::Arc(arc) => arc.from,
        }
    }

    /// Last end.
    pub fn to(&self) -> Point {
        match self {
            Segment::Line(_, to) => *to,
            Segment::Arc(arc) => arc.to,
        }
    }

    /// Length along the segment.
    pub fn length(&self) -> f64 {
        match self {
            Segment::Line(from, to) => from.distance(*to),
            Segment::Arc(arc) => arc.length(),
        }
    }

    /// The box around the segment.
    pub fn bounds(&self) -> Bounds {
        match self {
            Segment::Line(from, to) => Bounds::new(*from, *to),
            Segment::Arc(arc) => arc.bounds(),
        }
    }

    /// The shortest distance from a point to the segment.
    pub fn distance_to(&self, point: Point) -> f64 {
        point.distance(self.nearest_to(point))
    }
}

/// A run of lines and arcs.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Path {
    /// The vertices in order. The bulge of the last one belongs to the closing segment, and means nothing where the
    /// path is open.
    pub vertices: Vec<Vertex>,
    /// Whether a last segment leads back to the first vertex.
    pub closed: bool,
}

impl Path {
    /// A path of straight lines.
    pub fn of_points(points: impl IntoIterator<Item = Point>, closed: bool) -> Self {
        let vertices = points
            .into_iter()
            .map(|point| Vertex { point, bulge: 0.0 })
            .collect();
        Self { vertices, closed }
    }

    /// The straight line between two points.
    pub fn line(from: Point, to: Point) -> Self {
        Self::of_points([from, to], false)
    }

    /// The pieces in order.
    pub fn segments(&self) -> impl Iterator<Item = Segment> + '_ {
        let count = self.vertices.len();
        let pieces = match (self.closed, count) {
            (_, 0 | 1) => 0,
            (true, _) => count,
            (false, _) => count - 1,
        };
        (0..pieces)
            .map(move |i| Segment::new(self.vertices[i], self.vertices[(i + 1) % count].point))
    }

    /// Length along the whole path.
    pub fn length(&self) -> f64 {
        self.segments().map(|s| s.length()).sum()
    }

    /// Signed area inside a closed path; positive when it runs counter-clockwise. Exact for arcs: the shoelace formula
    /// plus r^2/2 (theta - sin theta) for each arc.
    pub fn area(&self) -> f64 {
        self.segments()
            .map(|segment| {
                let chord = segment.from().cross(segment.to()) / 2.0;
                match segment {
                    Segment::Line(..) => chord,
                    Segment::Arc(arc) => chord + arc.segment_area(),
                }
            })
            .sum()
    }

    /// The box around the path; `None` if it has no vertex.
    pub fn bounds(&self) -> Option<Bounds> {
        let points = Bounds::of_points(self.vertices.iter().map(|v| v.point));
        self.segments()
            .map(|s| s.bounds())
            .fold(points, |all, next| {
                Some(all.map_or(next, |all| all.union(next)))
            })
    }

    /// The same path run backward.
    #[must_use]
    pub fn reversed(&self) -> Path {
        let count = self.vertices.len();
        let vertices = (0..count)
            .rev()
            .map(|i| {
                // The segment that leaves a vertex in the new direction is the one that reached it before.
                let before = if i > 0 { i - 1 } else { count - 1 };
                let used = self.closed || i > 0;
                Vertex {
                    point: self.vertices[i].point,
                    bulge: if used {
                        -self.vertices[before].bulge + 0.0
                    } else {
                        0.0
                    },
                }
            })
            .collect();
        Path {
            vertices,
            closed: self.closed,
        }
    }

    /// The path seen in a mirror: x becomes `axis - x`. The direction of travel turns over with it.
    #[must_use]
    pub fn mirrored(&self, axis: f64) -> Path {
        let vertices = self
            .vertices
            .iter()
            .map(|v| Vertex {
                point: Point::new(axis - v.point.x, v.point.y),
                bulge: -v.bulge + 0.0,
            })
            .collect();
        Path {
            vertices,
            closed: self.closed,
        }
    }

    /// The path moved by a vector.
    #[must_use]
    pub fn moved(&self, by: Point) -> Path {
        let vertices = self
            .vertices
            .iter()
            .map(|v| Vertex {
                point: v.point + by,
                bulge: v.bulge,
            })
            .collect();
        Path {
            vertices,
            closed: self.closed,
        }
    }

    /// The closed path running counter-clockwise (or clockwise), starting at its lowest, then leftmost vertex.
    ///
    /// Two descriptions of one outline come out the same, which keeps exported files stable.
    #[must_use]
    pub fn normalised(&self, counter_clockwise: bool) -> Path {
        let mut path = if (self.area() > 0.0) == counter_clockwise {
            self.clone()
        } else {
            self.reversed()
        };
        // Compared on a grid, so that noise in the last digit does not move the start.
        let key = |v: &Vertex| {
            (
                (v.point.y / LENGTH_TOLERANCE).round(),
                (v.point.x / LENGTH_TOLERANCE).round(),
            )
        };
        let start = (0..path.vertices.len())
            .min_by(|&a, &b| {
                let (a, b) = (key(&path.vertices[a]), key(&path.vertices[b]));
                a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
            })
            .unwrap_or(0);
        path.vertices.rotate_left(start);
        path
    }

    /// Straight pieces that stay within `chord_error` millimetres of the path.
    pub fn flattened(&self, chord_error: f64) -> Vec<Point> {
        let mut points: Vec<Point> = self.vertices.first().map(|v| v.point).into_iter().collect();
        for segment in self.segments() {
            match segment {
                Segment::Line(_, to) => points.push(to),
                Segment::Arc(arc) => points.extend(arc.flattened(chord_error)),
            }
        }
        if self.closed && points.len() > 1 {
            points.pop();
        }
        points
    }

    /// Whether a point lies inside a closed path. Points on the path itself may go either way.
    pub fn contains(&self, point: Point) -> bool {
        // Winding number: the turn of each chord as seen from the point, and a full turn for each arc segment whose
        // area (between chord and arc) holds the point.
        let mut turns = 0.0;
        for segment in self.segments() {
            let a = segment.from() - point;
            let b = segment.to() - point;
            let cross = a.cross(b);
            let mut turn = cross.atan2(a.dot(b));
            if let Segment::Arc(arc) = segment {
                // On the chord itself the half turn is the arc's way; the sign of a zero says nothing.
                if cross == 0.0 && turn != 0.0 {
                    turn = std::f64::consts::PI * arc.bulge.signum();
                }
                let beyond_chord = cross * arc.bulge < 0.0;
                let in_circle = point.distance(arc.centre()) < arc.radius();
                if in_circle && beyond_chord {
                    turn += std::f64::consts::TAU * arc.bulge.signum();
                }
            }
            turns += turn;
        }
        (turns / std::f64::consts::TAU).round() != 0.0
    }

    /// The shortest distance from a point to the path; infinite for a path without segments.
    pub fn distance_to(&self, point: Point) -> f64 {
        self.segments()
            .map(|s| s.distance_to(point))
            .fold(f64::INFINITY, f64::min)
    }

    /// The full circle that the path is, if it is one: centre and radius.
    pub fn as_circle(&self) -> Option<(Point, f64)> {
        let [a, b] = self.vertices.as_slice() else {
            return None;
        };
        let half = |bulge: f64| (bulge.abs() - 1.0).abs() < 1e-12;
        (self.closed && half(a.bulge) && half(b.bulge) && a.bulge * b.bulge > 0.0).then(|| {
            (
                a.point.toward(b.point, 0.5),
                a.point.distance(b.point) / 2.0,
            )
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{circle, rounded_rectangle};
    use proptest::prelude::*;
    use std::f64::consts::PI;

    /// NIST IR 6556 (2000), Appendix B, Table 12: the outward parallel at 1.0 of the triangle with sides 3, 4, 5.
    fn nist_table_12() -> Path {
        let arc = |degrees: f64| -Arc::bulge_of_sweep(degrees.to_radians());
        let vertices = [
            (2.0, 3.0, arc(90.0)),
            (3.0, 2.0, 0.0),
            (3.0, -1.0, arc(90.0)),
            (2.0, -2.0, 0.0),
            (-2.0, -2.0, arc(143.130_102_354_155_98)),
            (-2.6, -0.2, 0.0),
            (1.4, 2.8, arc(36.869_897_645_844_02)),
        ]
        .map(|(x, y, bulge)| Vertex {
            point: Point::new(x, y),
            bulge,
        });
        Path {
            vertices: vertices.to_vec(),
            closed: true,
        }
    }

    /// Area 18 + pi and perimeter 12 + 2 pi by Steiner's formula for parallel bodies.
    #[test]
    fn area_and_length_of_the_nist_offset_are_exact() {
        let path = nist_table_12();
        assert!((path.area().abs() - (18.0 + PI)).abs() < 1e-12);
        assert!((path.length() - (12.0 + 2.0 * PI)).abs() < 1e-12);
        let sweeps: f64 = path
            .segments()
            .filter_map(|s| match s {
                Segment::Arc(arc) => Some(arc.sweep().to_degrees()),
                Segment::Line(..) => None,
            })
            .sum();
        assert!((sweeps + 360.0).abs() < 1e-9);
    }

    /// The centres of Table 12's arcs, from its I and J words.
    #[test]
    fn the_arcs_of_the_nist_offset_turn_about_the_corners() {
        let centres: Vec<Point> = nist_table_12()
            .segments()
            .filter_map(|s| match s {
                Segment::Arc(arc) => Some(arc.centre()),
                Segment::Line(..) => None,
            })
            .collect();
        for (centre, corner) in
            centres
                .iter()
                .zip([(2.0, 2.0), (2.0, -1.0), (-2.0, -1.0), (2.0, 2.0)])
        {
            assert!(
                centre.distance(Point::new(corner.0, corner.1)) < 1e-9,
                "{centre:?}"
            );
        }
    }

    /// The chord of an arc is no part of the path, on whichever side the arc runs.
    #[test]
    fn points_on_a_chord_are_inside() {
        for path in [
            circle(Point::new(45.0, 20.0), 4.0),
            circle(Point::default(), 4.0),
        ] {
            let (centre, radius) = path.as_circle().expect("a circle");
            for path in [path.clone(), path.reversed()] {
                for share in [-0.9, -0.5, 0.0, 0.25, 0.5] {
                    let point = centre + Point::new(radius * share, 0.0);
                    assert!(path.contains(point), "{point:?} in {path:?}");
                }
                assert!(!path.contains(centre + Point::new(1.5 * radius, 0.0)));
            }
        }
    }

    #[test]
    fn a_circle_knows_itself() {
        let path = circle(Point::new(3.0, 4.0), 17.5);
        let (centre, radius) = path.as_circle().unwrap();
        assert!(centre.distance(Point::new(3.0, 4.0)) < 1e-12);
        assert!((radius - 17.5).abs() < 1e-12);
        assert!((path.area() - PI * 17.5 * 17.5).abs() < 1e-9);
        assert!(path.contains(Point::new(3.0, 21.4)));
        assert!(!path.contains(Point::new(3.0, 21.6)));
    }

    proptest! {
        #[test]
        fn turning_over_keeps_area_length_and_inside(
            width in 10.0..3000.0f64, height in 10.0..3000.0f64, share in 0.01..0.49f64,
            x in -1.0..2.0f64, y in -1.0..2.0f64,
        ) {
            let radius = width.min(height) * share;
            let path = rounded_rectangle(Bounds::of_size(width, height), radius);
            let expected = width * height - (4.0 - PI) * radius * radius;
            prop_assert!((path.area() - expected).abs() < 1e-6);
            prop_assert!((path.reversed().area() + expected).abs() < 1e-6);
            prop_assert!((path.mirrored(width).area() + expected).abs() < 1e-6);
            prop_assert_eq!(path.reversed().reversed(), path.clone());
            prop_assert_eq!(path.mirrored(width).normalised(true).vertices.len(), path.vertices.len());
            let point = Point::new(x * width, y * height);
            if path.distance_to(point) > 1e-6 {
                let image = Point::new(width - point.x, point.y);
                prop_assert_eq!(path.contains(point), path.mirrored(width).contains(image));
                prop_assert_eq!(path.contains(point), path.reversed().contains(point));
            }
        }
    }
}
