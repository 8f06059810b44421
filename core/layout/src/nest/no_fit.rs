//! Where one piece may not lie, as seen from another one: their no-fit polygon.
//!
//! Piece B, moved by a vector, overlaps piece A where that vector lies inside the sum of A and B mirrored at its own 0,0
//! (Minkowski). The distance of a vector from the border of that sum is the distance of the two pieces outside it, and
//! inside it the least way that takes them apart, so spacing needs no outlines grown beforehand. Openings of A in which
//! B has room come out as openings of the sum.
//!
//! The sum of two closed areas is made of what three kinds of shapes cover together: each of them moved by a corner of
//! each contour of the other one, and the parallelogram of every two sides. Two convex contours have their sides put
//! together in the order of their directions.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay, ShapeType};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::Solver;
use i_overlay::i_float::int::point::IntPoint;
use jigless_model::geom::{Bounds, Point};

/// Steps of the grid of whole numbers in a millimetre.
const STEPS: f64 = 65_536.0;

/// What is narrower is there by rounding, in millimetres.
const NARROW: f64 = 0.001;

/// By how much parallelograms are grown, in millimetres, so that no gap opens between two of them by rounding.
const GROWN: f64 = 0.000_2;

/// Corners that are less than this from the line of their neighbours are left out, in millimetres.
const FLAT: f64 = 0.000_5;

/// A point on the grid. Contours are brought onto it before they are put together, so that sums are exact.
pub(super) fn on_grid(point: Point) -> Point {
    let whole = |value: f64| (value * STEPS).round() / STEPS;
    Point::new(whole(point.x), whole(point.y))
}

/// A closed contour: counter-clockwise outside, clockwise where it is an opening.
pub(super) type Ring = Vec<Point>;

/// A side of a contour.
#[derive(Debug, Clone, Copy)]
struct Side {
    from: Point,
    along: Point,
    /// How high it ends: the very number with which the next one begins.
    end: f64,
    /// One over the square of its length.
    inverse: f64,
    /// To the right of it, of length 1.
    outward: Point,
}

/// Where one piece may not lie as seen from another one.
#[derive(Debug)]
pub(super) struct NoFit {
    sides: Vec<Side>,
    convex: bool,
    bounds: Bounds,
}

impl NoFit {
    /// Of two pieces as they lie, each with its 0,0 at 0,0.
    pub(super) fn new(fixed: &[Ring], moving: &[Ring]) -> Self {
        let mirrored: Vec<Ring> = moving
            .iter()
            .map(|ring| ring.iter().map(|&point| -point).collect())
            .collect();
        let convex = is_convex(fixed) && is_convex(moving);
        let rings = if convex {
            vec![convex_sum(&fixed[0], &mirrored[0])]
        } else {
            sum(fixed, &mirrored)
        };
        let sides: Vec<Side> = rings.iter().flat_map(sides).map(side).collect();
        let bounds = Bounds::of_points(rings.into_iter().flatten());
        Self {
            sides,
            convex,
            bounds: bounds.unwrap_or(Bounds::of_size(0.0, 0.0)),
        }
    }

    /// How many sides it has.
    pub(super) fn len(&self) -> usize {
        self.sides.len()
    }

    /// Each side of it: from, to, and the direction of length 1 that leads out of it.
    pub(super) fn sides(&self) -> impl Iterator<Item = (Point, Point, Point)> + '_ {
        let sides = self.sides.iter();
        sides.map(|side| (side.from, side.from + side.along, side.outward))
    }

    /// A corner of it.
    pub(super) fn corner(&self, number: usize) -> Point {
        self.sides[number].from
    }

    /// How far a vector is inside it, or how much it lacks to a distance from it; 0 where it lacks nothing.
    pub(super) fn depth(&self, at: Point, distance: f64) -> f64 {
        let b = &self.bounds;
        let outside = (b.min.x - at.x)
            .max(at.x - b.max.x)
            .max(b.min.y - at.y)
            .max(at.y - b.max.y);
        if outside >= distance {
            return 0.0;
        }
        if self.convex {
            let mut most = f64::NEG_INFINITY;
            for side in &self.sides {
                let out = (at - side.from).dot(side.outward);
                if out >= distance {
                    return 0.0;
                }
                most = most.max(out);
            }
            if most <= 0.0 {
                return distance - most;
            }
        }
        if self.holds(at) {
            (distance + self.nearest(at).sqrt()).max(0.0)
        } else if distance > 0.0 {
            (distance - self.nearest(at).sqrt()).max(0.0)
        } else {
            0.0
        }
    }

    /// Whether a vector lies inside.
    fn holds(&self, at: Point) -> bool {
        let mut inside = false;
        for side in &self.sides {
            let crosses = (at.y >= side.from.y) != (at.y >= side.end);
            let is_left = side.along.cross(at - side.from) > 0.0;
            inside ^= crosses && (is_left == (side.along.y > 0.0));
        }
        inside
    }

    /// The square of the distance to the border.
    fn nearest(&self, at: Point) -> f64 {
        let mut nearest = f64::INFINITY;
        for side in &self.sides {
            let to = at - side.from;
            let share = (to.dot(side.along) * side.inverse).clamp(0.0, 1.0);
            let off = to - side.along * share;
            nearest = nearest.min(off.dot(off));
        }
        nearest
    }

    /// What moves a vector to just that distance from the border, the shortest way.
    pub(super) fn way_out(&self, at: Point, distance: f64) -> Point {
        let mut best = (f64::INFINITY, Point::default(), Point::default());
        for side in &self.sides {
            let to = at - side.from;
            let share = (to.dot(side.along) * side.inverse).clamp(0.0, 1.0);
            let off = to - side.along * share;
            let square = off.dot(off);
            if square < best.0 {
                best = (square, off, side.outward);
            }
        }
        let (square, off, outward) = best;
        let inside = self.holds(at);
        let length = square.sqrt();
        if length < 1e-9 {
            return outward * distance;
        }
        let away = off * (1.0 / length);
        if inside {
            away * -(length + distance)
        } else {
            away * (distance - length)
        }
    }
}

fn side((from, to): (Point, Point)) -> Side {
    let along = to - from;
    let square = along.dot(along);
    Side {
        from,
        along,
        end: to.y,
        inverse: 1.0 / square,
        outward: Point::new(along.y, -along.x) * (1.0 / square.sqrt()),
    }
}

fn sides(ring: &Ring) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = ring.iter().cycle().skip(1);
    let sides = ring.iter().copied().zip(next.copied());
    sides.filter(|(from, to)| from != to)
}

/// Whether the contours are one without a corner that points inward.
fn is_convex(rings: &[Ring]) -> bool {
    let [ring] = rings else { return false };
    let all: Vec<Point> = sides(ring).map(|(from, to)| to - from).collect();
    let mut turns = all.iter().zip(all.iter().cycle().skip(1));
    turns.all(|(a, b)| a.cross(*b) >= 0.0)
}

/// The sum of two convex contours.
fn convex_sum(a: &Ring, b: &Ring) -> Ring {
    let (a, b) = (from_lowest(a), from_lowest(b));
    let (mut i, mut j) = (0, 0);
    let mut sum = Ring::with_capacity(a.len() + b.len());
    let at = |ring: &Ring, number: usize| ring[number % ring.len()];
    while i < a.len() || j < b.len() {
        sum.push(at(&a, i) + at(&b, j));
        let (along_a, along_b) = (at(&a, i + 1) - at(&a, i), at(&b, j + 1) - at(&b, j));
        let turn = along_a.cross(along_b);
        let a_first = j >= b.len() || (i < a.len() && turn >= 0.0);
        let b_first = i >= a.len() || (j < b.len() && turn <= 0.0);
        i += usize::from(a_first);
        j += usize::from(b_first);
    }
    sum
}

/// A convex contour that begins at its lowest, then leftmost corner.
fn from_lowest(ring: &Ring) -> Ring {
    let mut ring: Ring = sides(ring).map(|(from, _)| from).collect();
    let lower = |a: &Point, b: &Point| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x));
    let first = (0..ring.len()).min_by(|&a, &b| lower(&ring[a], &ring[b]));
    ring.rotate_left(first.unwrap_or(0));
    ring
}

/// The sum of two areas of any shape.
fn sum(a: &[Ring], b: &[Ring]) -> Vec<Ring> {
    let node = |point: Point| {
        IntPoint::new(
            (point.x * STEPS).round() as i64,
            (point.y * STEPS).round() as i64,
        )
    };
    let mut overlay =
        Overlay::<i64>::new_custom(64, IntOverlayOptions::default(), Solver::default());
    let mut all: Vec<Vec<IntPoint<i64>>> = Vec::new();
    let mut add = |ring: Vec<Point>| all.push(ring.into_iter().map(node).collect());
    let mut moved = |rings: &[Ring], by: Point| {
        // Openings would be filled by their own ring where directions count for nothing; here they do count.
        for ring in rings {
            add(ring.iter().map(|&point| point + by).collect());
        }
    };
    for ring in b {
        moved(a, ring[0]);
    }
    for ring in a {
        moved(b, ring[0]);
    }
    let overlap: Ring = [
        (-GROWN, -GROWN),
        (GROWN, -GROWN),
        (GROWN, GROWN),
        (-GROWN, GROWN),
    ]
    .map(|(x, y)| Point::new(x, y))
    .to_vec();
    for (p, q) in a.iter().flat_map(sides) {
        for (s, t) in b.iter().flat_map(sides) {
            let turn = (q - p).cross(t - s);
            if turn > 0.0 {
                add(convex_sum(&vec![p + s, q + s, q + t, p + t], &overlap));
            } else if turn < 0.0 {
                add(convex_sum(&vec![p + s, p + t, q + t, q + s], &overlap));
            }
        }
    }
    for contour in &all {
        overlay.add_contour(contour, ShapeType::Subject);
    }
    let shapes = overlay.overlay(OverlayRule::Subject, FillRule::Positive);
    let point = |node: &IntPoint<i64>| Point::new(node.x as f64, node.y as f64) * (1.0 / STEPS);
    let rings = shapes.iter().flatten();
    let rings = rings.map(|ring| ring.iter().map(point).collect());
    rings
        .map(simplified)
        .filter(|ring| !is_sliver(ring))
        .collect()
}

/// A ring without corners that are there by growing or rounding alone.
fn simplified(mut ring: Ring) -> Ring {
    let mut at = 0;
    let mut kept = 0;
    while ring.len() > 3 && kept < ring.len() {
        at %= ring.len();
        let before = ring[(at + ring.len() - 1) % ring.len()];
        let (here, after) = (ring[at], ring[(at + 1) % ring.len()]);
        let chord = after - before;
        let square = chord.dot(chord);
        let off = chord.cross(here - before);
        let within = chord.dot(here - before);
        let flat = off * off < FLAT * FLAT * square && within >= 0.0 && within <= square;
        let near = (here - before).dot(here - before) < FLAT * FLAT;
        let spike = square < FLAT * FLAT;
        if flat || near || spike {
            ring.remove(at);
            kept = 0;
            at = (at + ring.len() - 1) % ring.len();
        } else {
            at += 1;
            kept += 1;
        }
    }
    ring
}

/// Whether a ring is so narrow that it is there by rounding alone: nothing may lie in it.
fn is_sliver(ring: &Ring) -> bool {
    let double: f64 = sides(ring).map(|(from, to)| from.cross(to)).sum();
    let length: f64 = sides(ring)
        .map(|(from, to)| (to - from).dot(to - from).sqrt())
        .sum();
    double.abs() < length * NARROW
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(points: &[(f64, f64)]) -> Ring {
        points.iter().map(|&(x, y)| Point::new(x, y)).collect()
    }

    fn square(side: f64) -> Ring {
        ring(&[(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)])
    }

    #[test]
    fn squares_are_apart_by_their_sides() {
        let no_fit = NoFit::new(&[square(10.0)], &[square(4.0)]);
        assert!((no_fit.depth(Point::new(5.0, 3.0), 0.0) - 5.0).abs() < 1e-9);
        assert!((no_fit.depth(Point::new(9.0, 3.0), 0.0) - 1.0).abs() < 1e-9);
        assert!(no_fit.depth(Point::new(10.0, 3.0), 0.0).abs() < 1e-9);
        assert!((no_fit.depth(Point::new(12.0, 3.0), 3.0) - 1.0).abs() < 1e-9);
        // Corner to corner, 3 across and 4 up.
        assert!((no_fit.depth(Point::new(13.0, 14.0), 6.0) - 1.0).abs() < 1e-9);
        let way = no_fit.way_out(Point::new(9.0, 3.0), 2.0);
        assert!(way.distance(Point::new(3.0, 0.0)) < 1e-9);
    }

    /// A square of 4 fits into the mouth of a U, 6 wide and 6 deep.
    #[test]
    fn a_mouth_is_entered() {
        let u = ring(&[
            (0.0, 0.0),
            (10.0, 0.0),
            (10.0, 10.0),
            (8.0, 10.0),
            (8.0, 4.0),
            (2.0, 4.0),
            (2.0, 10.0),
            (0.0, 10.0),
        ]);
        let no_fit = NoFit::new(&[u], &[square(4.0)]);
        assert!(no_fit.depth(Point::new(3.0, 5.0), 1.0).abs() < 1e-3);
        assert!((no_fit.depth(Point::new(3.0, 3.5), 0.0) - 0.5).abs() < 1e-3);
        assert!((no_fit.depth(Point::new(1.5, 5.0), 0.0) - 0.5).abs() < 1e-3);
    }

    /// A square of 4 fits into an opening of 6, and not into one of 3.
    #[test]
    fn an_opening_takes_what_is_smaller() {
        let opening = |side: f64| {
            let mut ring: Ring = square(side)
                .into_iter()
                .map(|point| point + Point::new(2.0, 2.0))
                .collect();
            ring.reverse();
            ring
        };
        let frame = NoFit::new(&[square(10.0), opening(6.0)], &[square(4.0)]);
        assert!(frame.depth(Point::new(3.0, 3.0), 1.0).abs() < 1e-3);
        assert!((frame.depth(Point::new(1.0, 3.0), 0.0) - 1.0).abs() < 1e-3);
        let narrow = NoFit::new(&[square(10.0), opening(3.0)], &[square(4.0)]);
        assert!(narrow.depth(Point::new(2.0, 2.0), 0.0) > 1.0);
        // The other way round: a frame does not lie around a square that is larger than its opening, else it does.
        let around = NoFit::new(&[square(4.0)], &[square(10.0), opening(6.0)]);
        assert!(around.depth(Point::new(-3.0, -3.0), 1.0).abs() < 1e-3);
    }
}
