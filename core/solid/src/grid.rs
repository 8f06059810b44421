//! Regions of the plane on a fine grid of whole numbers, so that the same point is the same wherever it comes from.

use std::f64::consts::TAU;

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay, ShapeType};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;
use jigless_model::geom::{Path, Point, Segment};

/// Steps of the grid in a millimetre: a step is 6e-8 mm, far below what any of our lengths is known to.
const STEPS: f64 = 16_777_216.0;

/// Arcs stay within this of their chords, in millimetres.
pub const CHORD_ERROR: f64 = 0.1;

/// A full circle has at least so many sides, so that small holes look round and corners are told from curves.
pub const LEAST_SIDES: usize = 16;

/// A point of the grid.
pub(crate) type Node = IntPoint<i64>;
/// A closed contour.
pub(crate) type Contour = Vec<Node>;

/// The nearest point of the grid.
pub(crate) fn node(point: Point) -> Node {
    Node::new(
        (point.x * STEPS).round() as i64,
        (point.y * STEPS).round() as i64,
    )
}

/// The point of the plane, in millimetres.
pub(crate) fn point(node: Node) -> Point {
    Point::new(node.x as f64 / STEPS, node.y as f64 / STEPS)
}

/// Sides of a full circle: an even number that keeps the chord error.
pub(crate) fn sides(radius: f64) -> usize {
    let step = 2.0 * (1.0 - (CHORD_ERROR / radius).min(1.0)).acos();
    let wanted = (TAU / step).ceil().clamp(LEAST_SIDES as f64, 720.0) as usize;
    wanted.div_ceil(4) * 4
}

/// A closed path as straight sides.
pub(crate) fn contour(path: &Path) -> Contour {
    let mut nodes = Contour::new();
    let mut add = |at: Point| {
        let next = node(at);
        if nodes.last() != Some(&next) {
            nodes.push(next);
        }
    };
    for segment in path.segments() {
        match segment {
            Segment::Line(from, _) => add(from),
            Segment::Arc(arc) => {
                let share = arc.sweep().abs() / TAU;
                let pieces = (share * sides(arc.radius()) as f64 - 1e-9).ceil().max(1.0);
                for piece in 0..pieces as usize {
                    add(arc.point_at(piece as f64 / pieces));
                }
            }
        }
    }
    while nodes.len() > 1 && nodes.first() == nodes.last() {
        nodes.pop();
    }
    nodes
}

/// What a rule leaves of two sets of contours: outer ones counter-clockwise, inner ones clockwise.
pub(crate) fn combined(
    subject: &[Contour],
    subject_rule: FillRule,
    tools: &[Contour],
    rule: OverlayRule,
) -> Vec<Contour> {
    let mut overlay = Overlay::<i64>::new_custom(
        subject.iter().chain(tools).map(Vec::len).sum(),
        IntOverlayOptions::keep_output_points(),
        i_overlay::core::solver::Solver::default(),
    );
    for contour in subject {
        overlay.add_contour(contour, ShapeType::Subject);
    }
    for contour in tools {
        overlay.add_contour(contour, ShapeType::Clip);
    }
    overlay
        .overlay(rule, subject_rule)
        .into_iter()
        .flatten()
        .map(without_spikes)
        .filter(|contour| contour.len() > 2)
        .collect()
}

/// A contour without stretches that go out and come back the same way, which are left where sides run on sides.
pub(crate) fn without_spikes(contour: Contour) -> Contour {
    let mut kept = Contour::with_capacity(contour.len());
    for node in contour {
        kept.push(node);
        while let [.., before, _, last] = kept[..]
            && before == last
        {
            kept.truncate(kept.len() - 2);
        }
    }
    // The same over the end.
    let mut begin = 0;
    while kept.len() > begin + 2 {
        let last = kept.len() - 1;
        if kept[last] == kept[begin + 1] {
            begin += 1;
            kept.pop();
        } else if kept[last - 1] == kept[begin] {
            kept.truncate(last - 1);
        } else if kept[last] == kept[begin] {
            kept.pop();
        } else {
            break;
        }
    }
    kept.split_off(begin)
}

/// Area inside contours, inner ones counted off, in square millimetres.
pub(crate) fn area(contours: &[Contour]) -> f64 {
    let twice: f64 = contours
        .iter()
        .flat_map(|contour| {
            let next = contour.iter().cycle().skip(1);
            contour.iter().zip(next)
        })
        .map(|(a, b)| point(*a).cross(point(*b)))
        .sum();
    twice / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::circle;

    #[test]
    fn circles_keep_the_chord_error() {
        for radius in [0.5, 1.25, 2.5, 17.5, 60.0, 900.0] {
            let nodes = contour(&circle(Point::new(100.0, 50.0), radius));
            assert!(nodes.len() >= LEAST_SIDES);
            let middle = point(nodes[0]).toward(point(nodes[1]), 0.5);
            let off = radius - middle.distance(Point::new(100.0, 50.0));
            assert!((0.0..=CHORD_ERROR).contains(&off), "{radius}: {off}");
        }
    }

    #[test]
    fn spikes_are_cut_off() {
        let at = |points: &[(i64, i64)]| -> Contour {
            points.iter().map(|(x, y)| Node::new(*x, *y)).collect()
        };
        let square = at(&[(0, 0), (9, 0), (9, 9), (0, 9)]);
        assert_eq!(without_spikes(square.clone()), square);
        let inside = at(&[
            (0, 0),
            (9, 0),
            (12, 3),
            (15, 3),
            (12, 3),
            (9, 0),
            (9, 9),
            (0, 9),
        ]);
        assert_eq!(without_spikes(inside), square);
        // A spike whose tip is the first node, and one whose foot is.
        let over_end = at(&[(-5, 0), (0, 0), (9, 0), (9, 9), (0, 9), (0, 0)]);
        assert_eq!(without_spikes(over_end).len(), 4);
        let foot = at(&[(0, 0), (9, 0), (9, 9), (0, 9), (0, 0), (-5, 0)]);
        assert_eq!(without_spikes(foot).len(), 4);
    }

    #[test]
    fn a_hole_is_taken_from_its_board() {
        let square = |low: f64, high: f64| {
            [(low, low), (high, low), (high, high), (low, high)]
                .map(|(x, y)| node(Point::new(x, y)))
                .to_vec()
        };
        let left = combined(
            &[square(0.0, 10.0)],
            FillRule::NonZero,
            &[square(2.0, 4.0), square(3.0, 5.0)],
            OverlayRule::Difference,
        );
        assert!((area(&left) - (100.0 - 4.0 - 4.0 + 1.0)).abs() < 1e-9);
    }
}
