//! Convex outlines on paper.

use jigless_model::geom::Point;

/// The smallest convex outline around some points, counter-clockwise.
pub fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    if points.len() < 3 {
        return points;
    }
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for point in points {
            while chain.len() > 1 {
                let (a, b) = (chain[chain.len() - 2], chain[chain.len() - 1]);
                if (b - a).cross(point - b) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    let mut outline = half(&mut points.iter().copied());
    outline.extend(half(&mut points.iter().rev().copied()));
    outline
}

/// How far two convex outlines are apart along the best of their sides' normals; negative where they overlap. Never more
/// than their distance.
pub fn gap(one: &[Point], other: &[Point]) -> f64 {
    let along = |of: &[Point], from: &[Point]| {
        let sides = of.iter().zip(of.iter().cycle().skip(1));
        sides
            .map(|(a, b)| {
                let out = (*b - *a).unit().left() * -1.0;
                from.iter()
                    .map(|p| (*p - *a).dot(out))
                    .fold(f64::INFINITY, f64::min)
            })
            .fold(f64::NEG_INFINITY, f64::max)
    };
    along(one, other).max(along(other, one))
}

/// The stretch of a line inside a convex outline, as shares of its length.
pub fn inside(outline: &[Point], from: Point, to: Point) -> Option<(f64, f64)> {
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    for (a, b) in outline.iter().zip(outline.iter().cycle().skip(1)) {
        let inward = (*b - *a).left();
        let (start, end) = ((from - *a).dot(inward), (to - *a).dot(inward));
        if start < 0.0 && end < 0.0 {
            return None;
        }
        if start < 0.0 {
            low = low.max(start / (start - end));
        } else if end < 0.0 {
            high = high.min(start / (start - end));
        }
    }
    (low < high).then_some((low, high))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x: f64) -> Vec<Point> {
        let corners = [
            (x, 0.0),
            (x + 10.0, 0.0),
            (x + 10.0, 10.0),
            (x, 10.0),
            (x + 5.0, 5.0),
        ];
        hull(corners.map(|(x, y)| Point::new(x, y)).to_vec())
    }

    #[test]
    fn squares_are_apart_as_they_lie() {
        assert_eq!(square(0.0).len(), 4);
        assert!((gap(&square(0.0), &square(13.0)) - 3.0).abs() < 1e-9);
        assert!((gap(&square(0.0), &square(8.0)) + 2.0).abs() < 1e-9);
        let line = (Point::new(-5.0, 5.0), Point::new(15.0, 5.0));
        assert_eq!(inside(&square(0.0), line.0, line.1), Some((0.25, 0.75)));
        assert_eq!(inside(&square(20.0), line.0, line.1), None);
    }
}
