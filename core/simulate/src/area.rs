//! The area over which a round tool passes.

use std::f64::consts::{PI, TAU};

use jigless_model::geom::{Bounds, Point};

use crate::program::Motion;
use crate::shape::{CHORD_ERROR, Polygon, node};

/// Straight pieces for a turn about a circle.
fn pieces(radius: f64, turn: f64) -> usize {
    let step = 2.0 * (1.0 - (CHORD_ERROR / radius).min(0.5)).acos();
    (turn.abs() / step).ceil().max(1.0) as usize
}

/// Points about a centre, from one angle on for a turn, its end left out.
fn around(centre: Point, radius: f64, start: f64, turn: f64, out: &mut Vec<Point>) {
    let count = pieces(radius, turn);
    for piece in 0..count {
        let angle = start + turn * piece as f64 / count as f64;
        out.push(centre + Point::new(angle.cos(), angle.sin()) * radius);
    }
}

/// The area of a tool that stands still.
pub(crate) fn disc(centre: Point, radius: f64) -> Polygon {
    let mut points = Vec::new();
    around(centre, radius, 0.0, TAU, &mut points);
    points.into_iter().map(node).collect()
}

/// The area of a tool that goes straight.
fn capsule(a: Point, b: Point, radius: f64) -> Polygon {
    let along = (b - a).angle();
    let mut points = Vec::new();
    around(b, radius, along - PI / 2.0, PI, &mut points);
    points.push(b + Point::new((along + PI / 2.0).cos(), (along + PI / 2.0).sin()) * radius);
    around(a, radius, along + PI / 2.0, PI, &mut points);
    points.push(a + Point::new((along - PI / 2.0).cos(), (along - PI / 2.0).sin()) * radius);
    points.into_iter().map(node).collect()
}

/// The areas over which a tool of a radius passes between two shares of a motion.
pub(crate) fn passed(motion: &Motion, from: f64, to: f64, radius: f64, out: &mut Vec<Polygon>) {
    let (a, b) = (motion.at(from), motion.at(to));
    let Some(arc) = motion.arc else {
        out.push(if a.distance(b) < 1e-9 {
            disc(a, radius)
        } else {
            capsule(a, b, radius)
        });
        return;
    };
    let turn = motion.sweep(arc) * (to - from);
    let own = a.distance(arc.centre);
    // Half turns at most, so that no band meets itself.
    let count = (pieces(own.max(CHORD_ERROR), turn)).min(2048);
    if own <= radius * 1.01 || turn.abs() > PI * 1.01 && count < 2 {
        for piece in 0..count {
            let share = |n: usize| from + (to - from) * n as f64 / count as f64;
            out.push(capsule(
                motion.at(share(piece)),
                motion.at(share(piece + 1)),
                radius,
            ));
        }
        return;
    }
    let halves = (turn.abs() / PI).ceil().max(1.0) as usize;
    for half in 0..halves {
        let part = turn / halves as f64;
        let start = (a - arc.centre).angle() + part * half as f64;
        out.push(band(arc.centre, own, start, part, radius));
    }
}

/// The area of a tool that follows an arc wider than itself.
fn band(centre: Point, own: f64, start: f64, turn: f64, radius: f64) -> Polygon {
    let end = start + turn;
    let on = |angle: f64| centre + Point::new(angle.cos(), angle.sin()) * own;
    let side = turn.signum() * PI;
    let mut points = Vec::new();
    around(centre, own + radius, start, turn, &mut points);
    around(on(end), radius, end, side, &mut points);
    around(centre, own - radius, end, -turn, &mut points);
    around(on(start), radius, start + PI, side, &mut points);
    // All areas run round the same way: where two that differ overlap they would cancel out.
    if turn < 0.0 {
        points.reverse();
    }
    points.into_iter().map(node).collect()
}

/// The box around what a tool of a radius passes over.
pub(crate) fn reach(motion: &Motion, radius: f64) -> Bounds {
    motion.way().grown(radius)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::program::Arc;
    use crate::shape::{area, union};

    fn motion(from: Point, to: Point, arc: Option<Arc>) -> Motion {
        Motion {
            line: 1,
            rapid: false,
            from,
            from_z: -1.0,
            to,
            to_z: -1.0,
            arc,
            tool: None,
            tool_line: 0,
            feed: None,
            spindle: true,
        }
    }

    fn swept(motion: &Motion, radius: f64) -> f64 {
        let mut out = Vec::new();
        passed(motion, 0.0, 1.0, radius, &mut out);
        area(&union(&out))
    }

    /// What overlaps counts once, whichever way its arcs run.
    #[test]
    fn areas_of_both_senses_add_up() {
        let line = motion(Point::new(-30.0, 20.0), Point::new(30.0, 20.0), None);
        let arc = Arc {
            centre: Point::default(),
            clockwise: true,
        };
        let over = motion(Point::new(-20.0, 0.0), Point::new(20.0, 0.0), Some(arc));
        let (mut one, mut both) = (Vec::new(), Vec::new());
        passed(&over, 0.0, 1.0, 3.0, &mut one);
        passed(&line, 0.0, 1.0, 3.0, &mut both);
        let apart = area(&union(&one)) + area(&union(&both));
        let common = area(&crate::shape::common(&union(&one), &union(&both)));
        both.append(&mut one);
        assert!((area(&union(&both)) - (apart - common)).abs() < 1e-3);
    }

    /// Elementary: length x 2 r and a disc; a band of turn x radius x 2 r and a disc.
    #[test]
    fn areas_of_tools_by_hand() {
        let line = motion(Point::default(), Point::new(30.0, 40.0), None);
        assert!((swept(&line, 3.0) - (50.0 * 6.0 + PI * 9.0)).abs() < 0.1);
        for clockwise in [true, false] {
            let arc = Arc {
                centre: Point::default(),
                clockwise,
            };
            let quarter = motion(Point::new(20.0, 0.0), Point::new(0.0, 20.0), Some(arc));
            let turn = if clockwise { 1.5 * PI } else { 0.5 * PI };
            let expected = turn * 20.0 * 6.0 + PI * 9.0;
            assert!((swept(&quarter, 3.0) - expected).abs() < 0.2, "{clockwise}");
        }
        // A ring about a point nearer than the radius leaves nothing in its middle.
        let arc = Arc {
            centre: Point::default(),
            clockwise: false,
        };
        let small = motion(Point::new(2.0, 0.0), Point::new(2.0, 0.0), Some(arc));
        assert!((swept(&small, 3.0) - PI * 25.0).abs() < 0.1);
    }
}
