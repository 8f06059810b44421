//! What a tool passes over in one motion, at a depth.

use jigless_model::geom::Point;

use crate::area::passed;
use crate::program::Motion;
use crate::setup::Cutter;
use crate::shape::Polygon;

/// What tells that two motions pass over the same area.
pub(crate) type Track = [i64; 8];

/// The track of a motion in the plane, whichever way it goes.
pub(crate) fn track(motion: &Motion, radius: f64) -> Track {
    let whole = |mm: f64| (mm * 1e5).round() as i64;
    let ends = |p: Point| (whole(p.x), whole(p.y));
    let (mut a, mut b) = (ends(motion.from), ends(motion.to));
    let (mut centre, mut way) = ((0, 0), 0_i64);
    if let Some(arc) = motion.arc {
        centre = ends(arc.centre);
        way = if arc.clockwise { 1 } else { 2 };
    }
    if a > b {
        (a, b) = (b, a);
        way = (3 - way) % 3;
    }
    [a.0, a.1, b.0, b.1, centre.0, centre.1, way, whole(radius)]
}

/// The shares of a motion between which the tool's tip is at least so deep; `None` where it nowhere is.
pub(crate) fn shares(motion: &Motion, depth: f64) -> Option<(f64, f64)> {
    let (a, b) = (-motion.from_z - depth, -motion.to_z - depth);
    match (a >= 0.0, b >= 0.0) {
        (true, true) => Some((0.0, 1.0)),
        (false, false) => None,
        (deep, _) => {
            let crossing = (a / (a - b)).clamp(0.0, 1.0);
            Some(if deep {
                (0.0, crossing)
            } else {
                (crossing, 1.0)
            })
        }
    }
}

/// What a cutter that makes a motion passes over at a depth.
pub(crate) fn passed_at(motion: &Motion, cutter: &Cutter, depth: f64, out: &mut Vec<Polygon>) {
    let Some((from, to)) = shares(motion, depth) else {
        return;
    };
    let radius = match cutter.angle {
        None => cutter.diameter / 2.0,
        // A cone is as wide as where it is deepest; only cones that stand still are judged exactly.
        Some(_) => cutter.radius_at(-motion.lowest(), depth),
    };
    if radius > 1e-6 {
        passed(motion, from, to, radius, out);
    }
}
