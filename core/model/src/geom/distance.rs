//! How close two segments come to each other.

use super::{Point, Segment};

/// The nearest points of two segments that do not cross, and how far apart they are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Closest {
    /// Distance in millimetres.
    pub distance: f64,
    /// The point of the first segment.
    pub on_first: Point,
    /// The point of the second segment.
    pub on_second: Point,
}

impl Segment {
    /// The point of the segment that is nearest to a point.
    pub fn nearest_to(&self, point: Point) -> Point {
        match self {
            Segment::Line(from, to) => {
                let along = *to - *from;
                let square = along.dot(along);
                let share = if square == 0.0 {
                    0.0
                } else {
                    ((point - *from).dot(along) / square).clamp(0.0, 1.0)
                };
                from.toward(*to, share)
            }
            Segment::Arc(arc) => {
                let spoke = point - arc.centre();
                if spoke.length() > 0.0 && arc.covers_angle(spoke.angle()) {
                    arc.centre() + spoke.unit() * arc.radius()
                } else if point.distance(arc.from) <= point.distance(arc.to) {
                    arc.from
                } else {
                    arc.to
                }
            }
        }
    }

    /// The nearest points of two segments. Where the segments cross, the distance is that of an end, not 0.
    ///
    /// A least distance lies at an end of one of them, or, where an arc takes part, on the line through its centre that
    /// meets the other at a right angle; no other place can be least.
    pub fn closest_to(&self, other: &Segment) -> Closest {
        let mut best = Closest {
            distance: f64::INFINITY,
            on_first: self.from(),
            on_second: other.from(),
        };
        let mut offer = |on_first: Point, on_second: Point| {
            let distance = on_first.distance(on_second);
            if distance < best.distance {
                best = Closest {
                    distance,
                    on_first,
                    on_second,
                };
            }
        };
        for end in [self.from(), self.to()] {
            offer(end, other.nearest_to(end));
        }
        for end in [other.from(), other.to()] {
            offer(self.nearest_to(end), end);
        }
        if let Segment::Arc(arc) = self {
            let there = other.nearest_to(arc.centre());
            offer(self.nearest_to(there), there);
        }
        if let Segment::Arc(arc) = other {
            let here = self.nearest_to(arc.centre());
            offer(here, other.nearest_to(here));
        }
        if let (Segment::Arc(a), Segment::Arc(b)) = (self, other) {
            // Far sides of nested circles lie on the line of centres beyond the smaller one.
            let line = (b.centre() - a.centre()).unit();
            for (p, q) in [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)] {
                let on_a = a.centre() + line * (p * a.radius());
                let on_b = b.centre() + line * (q * b.radius());
                offer(self.nearest_to(on_a), other.nearest_to(on_b));
            }
        }
        best
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::geom::{Bounds, Path, Vertex, circle, rectangle};

    fn least(a: &Path, b: &Path) -> f64 {
        a.segments()
            .flat_map(|first| b.segments().map(move |second| first.closest_to(&second)))
            .map(|closest| closest.distance)
            .fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn circles_come_as_close_as_their_centres_less_their_radii() {
        let a = circle(Point::new(0.0, 0.0), 5.0);
        let b = circle(Point::new(20.0, 0.0), 7.0);
        assert!((least(&a, &b) - 8.0).abs() < 1e-9);
        // Nested: 10 - 3 - 2.
        let inner = circle(Point::new(2.0, 0.0), 3.0);
        let outer = circle(Point::new(0.0, 0.0), 10.0);
        assert!((least(&inner, &outer) - 5.0).abs() < 1e-9);
    }

    proptest! {
        /// No sampled pair of points is nearer than the distance that is reported, and the reported points are that far apart.
        #[test]
        fn nothing_is_nearer(
            x in 30.0..90.0f64, y in -80.0..80.0f64, bulge in -1.2..1.2f64, dx in -20.0..20.0f64, dy in 1.0..20.0f64,
        ) {
            let a = rectangle(Bounds::of_size(25.0, 25.0));
            let b = Path {
                vertices: vec![
                    Vertex { point: Point::new(x + 40.0, y), bulge },
                    Vertex { point: Point::new(x + 40.0 + dx, y + dy), bulge: 0.0 },
                ],
                closed: false,
            };
            let reported = least(&a, &b);
            let sampled = b
                .flattened(0.01)
                .into_iter()
                .map(|p| a.distance_to(p))
                .fold(f64::INFINITY, f64::min);
            prop_assert!(reported <= sampled + 1e-9);
            // Flattened points lie on the curve, no more than half a chord from the nearest place.
            prop_assert!(sampled - reported < 1.5, "{reported} {sampled}");
        }
    }
}
