//! Where a path meets itself.

use cavalier_contours::core::math::Vector2;
use cavalier_contours::polyline::{PlineSegIntr, PlineSource, PlineVertex, pline_seg_intr};

use super::polyline::to_polyline;
use super::{Path, Point, Segment};

/// Ends that are nearer than this, in millimetres, are one point (`fuzzy_eq` of `cavalier_contours`, 1e-5 in x and in y).
const ONE_POINT: f64 = 2e-5;

/// Segments that come closer than this touch, in millimetres: far below what is cut, far above rounding.
const TOUCH: f64 = 1e-5;

impl Path {
    /// Whether a closed path meets itself anywhere but where neighbouring segments join.
    pub fn crosses_itself(&self) -> bool {
        self.crossing().is_some()
    }

    /// A place where a closed path meets itself, other than where neighbouring segments join.
    ///
    /// Neighbours on a fine curve lie nearly on one line; that alone is no overlap, so lines are held against each other by
    /// exact signs and distances.
    pub fn crossing(&self) -> Option<Point> {
        let segments: Vec<Segment> = self.segments().collect();
        let count = segments.len();
        if count < 3 {
            return None;
        }
        let neighbours = (0..count).find_map(|i| {
            let next = (i + 1) % count;
            fold(&segments[i], &segments[next])
        });
        if neighbours.is_some() {
            return neighbours;
        }
        let index = to_polyline(self).create_approx_aabb_index();
        (0..count).find_map(|i| {
            let around = segments[i].bounds().grown(TOUCH);
            let (min, max) = (around.min, around.max);
            index
                .query_iter(min.x, min.y, max.x, max.y)
                .filter(|&j| j > i + 1 && !(i == 0 && j == count - 1))
                .find_map(|j| contact(&segments[i], &segments[j]))
        })
    }
}

/// Where a segment comes back over the one before it.
fn fold(before: &Segment, after: &Segment) -> Option<Point> {
    if let (Segment::Line(from, corner), Segment::Line(_, to)) = (before, after) {
        let (one, other) = (*corner - *from, *to - *corner);
        let lengths = one.length() * other.length();
        let back = one.dot(other) < 0.0 && one.cross(other).abs() <= 1e-9 * lengths;
        return back.then_some(*corner);
    }
    let corner = before.to();
    let apart = |at: Vector2<f64>| {
        let at = Point::new(at.x, at.y);
        (at.distance(corner) > TOUCH).then_some(at)
    };
    match intersection(before, after) {
        PlineSegIntr::NoIntersect => None,
        PlineSegIntr::TangentIntersect { point } | PlineSegIntr::OneIntersect { point } => {
            apart(point)
        }
        PlineSegIntr::TwoIntersects { point1, point2 }
        | PlineSegIntr::OverlappingLines { point1, point2 }
        | PlineSegIntr::OverlappingArcs { point1, point2 } => apart(point1).or(apart(point2)),
    }
}

/// Where two segments that are no neighbours cross or touch.
fn contact(one: &Segment, other: &Segment) -> Option<Point> {
    if let (Segment::Line(a, b), Segment::Line(c, d)) = (one, other) {
        // Twice the area of the triangles over one line is its length times the distance of a point.
        let sides = |from: Point, to: Point, p: Point, q: Point| {
            let along = to - from;
            let apart = TOUCH * along.length();
            let (p, q) = (along.cross(p - from), along.cross(q - from));
            let clear = p.min(q) > apart || p.max(q) < -apart;
            (clear, p, q)
        };
        let (clear, low, high) = sides(*a, *b, *c, *d);
        let (also_clear, left, right) = sides(*c, *d, *a, *b);
        if clear || also_clear {
            return None;
        }
        if low * high < 0.0 && left * right < 0.0 {
            return Some(c.toward(*d, low / (low - high)));
        }
    } else {
        match intersection(one, other) {
            PlineSegIntr::NoIntersect => {}
            PlineSegIntr::TangentIntersect { point }
            | PlineSegIntr::OneIntersect { point }
            | PlineSegIntr::TwoIntersects { point1: point, .. }
            | PlineSegIntr::OverlappingLines { point1: point, .. }
            | PlineSegIntr::OverlappingArcs { point1: point, .. } => {
                return Some(Point::new(point.x, point.y));
            }
        }
    }
    let closest = one.closest_to(other);
    (closest.distance <= TOUCH).then_some(closest.on_first)
}

fn intersection(one: &Segment, other: &Segment) -> PlineSegIntr<f64> {
    let ends = |segment: &Segment| {
        let (from, to) = (segment.from(), segment.to());
        let bulge = match segment {
            // The library takes no arc whose ends are one point to it.
            Segment::Arc(arc) if from.distance(to) > ONE_POINT => arc.bulge,
            Segment::Line(..) | Segment::Arc(_) => 0.0,
        };
        let vertex = |point: Point, bulge| PlineVertex::new(point.x, point.y, bulge);
        (vertex(from, bulge), vertex(to, 0.0))
    };
    let ((a, b), (c, d)) = (ends(one), ends(other));
    pline_seg_intr(a, b, c, d, TOUCH)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Bounds, circle, rounded_rectangle};

    fn polygon(points: &[(f64, f64)]) -> Path {
        Path::of_points(points.iter().map(|(x, y)| Point::new(*x, *y)), true)
    }

    #[test]
    fn a_fine_curve_does_not_cross_itself() {
        for count in [1_000, 20_000, 50_000] {
            let at = |i: i32| {
                let angle = std::f64::consts::TAU * f64::from(i) / f64::from(count);
                Point::new(400.0 + 400.0 * angle.cos(), 400.0 + 400.0 * angle.sin())
            };
            assert!(
                !Path::of_points((0..count).map(at), true).crosses_itself(),
                "{count}"
            );
        }
        assert!(!circle(Point::new(3.0, 4.0), 5.0).crosses_itself());
        let rounded = rounded_rectangle(Bounds::of_size(30.0, 20.0), 10.0);
        assert!(!rounded.crosses_itself());
    }

    #[test]
    fn the_place_of_a_crossing_is_told() {
        // By hand: the diagonals of a square of 10 meet in its middle.
        let bow = polygon(&[(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)]);
        assert!(bow.crossing().unwrap().distance(Point::new(5.0, 5.0)) < 1e-9);
        // A corner that reaches the opposite side.
        let touching = polygon(&[
            (0.0, 0.0),
            (10.0, 0.0),
            (10.0, 10.0),
            (5.0, 0.0),
            (0.0, 10.0),
        ]);
        assert!(touching.crossing().unwrap().distance(Point::new(5.0, 0.0)) < 1e-9);
        let folded = polygon(&[(0.0, 0.0), (10.0, 0.0), (4.0, 0.0), (4.0, 8.0)]);
        assert!(folded.crosses_itself());
    }

    #[test]
    fn what_comes_within_a_hair_touches_and_what_stays_off_does_not() {
        let slot = |wide: f64| {
            polygon(&[
                (0.0, 0.0),
                (9.0, 0.0),
                (9.0, 5.0),
                (9.0 - wide, 5.0),
                (9.0 - wide, 1.0),
                (0.0, 1.0),
            ])
        };
        assert!(!slot(0.001).crosses_itself());
        let pinched = |gap: f64| {
            polygon(&[
                (0.0, 0.0),
                (10.0, 0.0),
                (10.0, 10.0),
                (5.0, gap),
                (0.0, 10.0),
            ])
        };
        assert!(pinched(1e-6).crosses_itself());
        assert!(!pinched(1e-4).crosses_itself());
    }
}
