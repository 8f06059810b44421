//! Where a round tool or beam can run, and what it cannot reach.

use jigless_model::geom::{Path, Point, Segment};

/// The one parallel of a closed path at a distance (positive: outside), if a round tool of that radius can follow the
/// whole path but for its sharp corners; `None` where a slot or arc is too narrow for it.
///
/// NIST IR 6556, B.5.1: an arc smaller than the tool, or a corner that it cannot follow, is an error and is not rounded in
/// silence. Sharp corners are kept apart here because they are relieved, or left to the hand.
pub(super) fn followed(path: &Path, distance: f64) -> Option<Path> {
    let found = path.parallels(distance);
    let [one] = found.as_slice() else { return None };
    let back = one.parallels(-distance);
    let [back] = back.as_slice() else { return None };
    let lost = (back.area() - path.area()).abs();
    // The way out and back fills every sharp corner that turns toward the tool with a fillet.
    let fillets = fillets(path, distance);
    let rounding = 1e-5 * path.length() + 1e-6;
    (lost <= fillets * 1.001 + rounding).then(|| one.clone())
}

/// Area that a round tool of a radius leaves in the sharp corners of a closed path: r^2 (tan(turn/2) - turn/2) for each,
/// which is r^2 (1 - pi/4) for a right angle (elementary).
pub(super) fn fillets(path: &Path, distance: f64) -> f64 {
    turns(path)
        .into_iter()
        .filter(|turn| turn * distance * path.area() < 0.0)
        .map(|turn| {
            let half = turn.abs() / 2.0;
            distance * distance * (half.tan() - half)
        })
        .sum()
}

/// The turn at each vertex of a closed path in radians, positive to the left; 0 where it goes on smoothly.
pub(super) fn turns(path: &Path) -> Vec<f64> {
    let segments: Vec<Segment> = path.segments().collect();
    let count = segments.len();
    (0..count)
        .map(|i| {
            let arriving = direction(&segments[(i + count - 1) % count], true);
            let leaving = direction(&segments[i], false);
            let turn = arriving.cross(leaving).atan2(arriving.dot(leaving));
            if turn.abs() < 1e-6 { 0.0 } else { turn }
        })
        .collect()
}

/// The direction of travel at an end of a segment.
fn direction(segment: &Segment, at_end: bool) -> Point {
    match segment {
        Segment::Line(from, to) => (*to - *from).unit(),
        Segment::Arc(arc) => {
            let at = if at_end { arc.to } else { arc.from };
            let left = (at - arc.centre()).left().unit();
            if arc.bulge > 0.0 { left } else { -left }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{Bounds, Region, rectangle, rounded_rectangle};

    fn slotted(width: f64) -> Path {
        let board = Region::new(&rectangle(Bounds::of_size(100.0, 60.0)));
        let slot = Bounds::new(Point::new(40.0, 30.0), Point::new(40.0 + width, 70.0));
        board.cut(&rectangle(slot)).unwrap().outer
    }

    #[test]
    fn a_slot_takes_a_tool_that_is_no_wider() {
        assert!(followed(&slotted(6.0), 2.9999).is_some());
        assert!(followed(&slotted(6.0), 3.01).is_none());
        assert!(
            followed(&slotted(0.1), 0.075).is_none(),
            "a slot below the kerf"
        );
    }

    /// values: r^2 (1 - pi/4) stays in a right-angled corner; 2.1633 for r = 3.175 (derived, elementary).
    #[test]
    fn fillets_of_a_square_opening() {
        let opening = rectangle(Bounds::of_size(40.0, 30.0)).reversed();
        assert!((fillets(&opening, -3.175) / 4.0 - 2.163_3).abs() < 1e-4);
        assert!(fillets(&opening, 3.175).abs() < 1e-12);
    }

    #[test]
    fn an_inside_radius_takes_a_tool_that_is_no_larger() {
        let opening = rounded_rectangle(Bounds::of_size(40.0, 30.0), 3.0).reversed();
        assert!(followed(&opening, -2.99).is_some());
        assert!(followed(&opening, -3.1).is_none());
        assert!(followed(&opening, -15.1).is_none());
    }
}
