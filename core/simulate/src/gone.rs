//! What is gone of a sheet at some depths: the sheet as a height field of regions.
//!
//! Joining areas costs most where edges lie on one another, and passes of one contour do so at every depth. So a way that
//! lies within another one of the same tool is left out, and ways that cannot meet are joined by themselves.

use std::f64::consts::TAU;

use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Point};
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};

use crate::area::{passed, reach};
use crate::program::{Arc, Motion};
use crate::setup::{Cutter, Setup};
use crate::shape::{Polygon, union};
use crate::sweep::{passed_at, shares};

/// Ways that are farther apart do not lie on one another, in millimetres.
const ON: f64 = 1e-5;

type Numbered = GeomWithData<Rectangle<[f64; 2]>, usize>;

/// What is gone at each of some depths, which are given from the deepest up.
pub(crate) fn gone_at(motions: &[Motion], setup: &Setup, depths: &[f64]) -> Vec<Vec<Polygon>> {
    let cutting: Vec<(&Motion, &Cutter)> = motions
        .iter()
        .filter(|motion| motion.lowest() < 0.0)
        .filter_map(|motion| Some((motion, setup.cutter(motion.tool?)?)))
        .collect();
    let mut levels = vec![Vec::new(); depths.len()];
    // On several threads, and put together in the order of the program for any number of them.
    let groups: Vec<Vec<Vec<Polygon>>> = that_meet(&cutting)
        .par_iter()
        .map(|group| of_group(group, depths))
        .collect();
    for own in groups {
        for (level, region) in levels.iter_mut().zip(own) {
            level.extend(region);
        }
    }
    levels
}

/// Motions in groups whose areas cannot meet those of others, each in the order of the program.
fn that_meet<'a>(cutting: &[(&'a Motion, &'a Cutter)]) -> Vec<Vec<(&'a Motion, &'a Cutter)>> {
    let around = |(motion, cutter): &(&Motion, &Cutter)| reach(motion, cutter.diameter / 2.0);
    let boxes: Vec<Numbered> = cutting
        .iter()
        .enumerate()
        .map(|(number, own)| numbered(around(own), number))
        .collect();
    let tree = RTree::bulk_load(boxes);
    let mut group_of = vec![usize::MAX; cutting.len()];
    let mut groups = Vec::new();
    for first in 0..cutting.len() {
        if group_of[first] != usize::MAX {
            continue;
        }
        let own = groups.len();
        group_of[first] = own;
        let mut waiting = vec![first];
        let mut members = Vec::new();
        while let Some(number) = waiting.pop() {
            members.push(number);
            let room = envelope(around(&cutting[number]).grown(LENGTH_TOLERANCE));
            for near in tree.locate_in_envelope_intersecting(room) {
                if group_of[near.data] == usize::MAX {
                    group_of[near.data] = own;
                    waiting.push(near.data);
                }
            }
        }
        members.sort_unstable();
        groups.push(members.into_iter().map(|number| cutting[number]).collect());
    }
    groups
}

fn envelope(bounds: Bounds) -> AABB<[f64; 2]> {
    AABB::from_corners([bounds.min.x, bounds.min.y], [bounds.max.x, bounds.max.y])
}

fn numbered(bounds: Bounds, number: usize) -> Numbered {
    let corners = [bounds.min, bounds.max].map(|p| [p.x, p.y]);
    Numbered::new(Rectangle::from_corners(corners[0], corners[1]), number)
}

/// What a group of motions takes at each depth.
fn of_group(cutting: &[(&Motion, &Cutter)], depths: &[f64]) -> Vec<Vec<Polygon>> {
    let mut taken = Taken::default();
    let mut whole = vec![false; cutting.len()];
    let mut region: Vec<Polygon> = Vec::new();
    let mut levels = Vec::with_capacity(depths.len());
    for &depth in depths {
        let mut new = Vec::new();
        let mut ways = Vec::new();
        for (number, (motion, cutter)) in cutting.iter().enumerate() {
            if whole[number] {
                continue;
            }
            if cutter.angle.is_some() {
                // As wide as it is deep, so each depth has its own.
                passed_at(motion, cutter, depth, &mut new);
            } else if let Some((from, to)) = shares(motion, depth) {
                // What is whole here is so at every depth above.
                whole[number] = (from, to) == (0.0, 1.0);
                ways.push(Way::new(motion, (from, to), cutter.diameter / 2.0));
            }
        }
        // The long first, since the short lie in them.
        ways.sort_by(|a, b| b.length.total_cmp(&a.length));
        for way in ways {
            if !taken.holds(&way) {
                let (from, to) = way.shares;
                passed(way.motion, from, to, way.radius, &mut new);
                taken.add(way);
            }
        }
        if !new.is_empty() {
            new.append(&mut region);
            region = union(&new);
        }
        levels.push(region.clone());
    }
    levels
}

/// What the middle of a tool follows, as seen from above, in a motion or a part of it.
struct Way<'a> {
    motion: &'a Motion,
    /// Between which shares of the motion.
    shares: (f64, f64),
    /// Radius of the tool.
    radius: f64,
    from: Point,
    to: Point,
    /// Its arc, where it begins about its centre, counter-clockwise, and for how long, both in radians.
    arc: Option<(Arc, f64, f64)>,
    length: f64,
}

impl<'a> Way<'a> {
    fn new(motion: &'a Motion, shares: (f64, f64), radius: f64) -> Way<'a> {
        let (from, to) = (motion.at(shares.0), motion.at(shares.1));
        let arc = motion.arc.map(|arc| {
            let turn = motion.sweep(arc) * (shares.1 - shares.0);
            let start = if turn < 0.0 { to } else { from };
            (arc, (start - arc.centre).angle(), turn.abs())
        });
        let length = arc.map_or(from.distance(to), |(arc, _, turn)| {
            from.distance(arc.centre) * turn
        });
        Way {
            motion,
            shares,
            radius,
            from,
            to,
            arc,
            length,
        }
    }

    /// Whether all of another way lies on this one.
    fn holds(&self, other: &Way) -> bool {
        if other.radius > self.radius + ON {
            return false;
        }
        match (self.arc, other.arc) {
            (None, None) => self.is_near(other.from) && self.is_near(other.to),
            (Some((own, start, turn)), Some((arc, other_start, other_turn))) => {
                let radius = self.from.distance(own.centre);
                // What the angle may be off at the arc.
                let off = ON / radius.max(ON);
                let after = (other_start - start + off).rem_euclid(TAU);
                own.centre.distance(arc.centre) < ON
                    && (other.from.distance(arc.centre) - radius).abs() < ON
                    && (turn > TAU - off || after + other_turn < turn + 3.0 * off)
            }
            _ => false,
        }
    }

    /// Whether a point is on this way, which is straight.
    fn is_near(&self, point: Point) -> bool {
        let along = self.to - self.from;
        let square = along.dot(along);
        let share = if square > 0.0 {
            (along.dot(point - self.from) / square).clamp(0.0, 1.0)
        } else {
            0.0
        };
        self.from.toward(self.to, share).distance(point) < ON
    }

    /// The box around the motion of which it is.
    fn bounds(&self) -> Bounds {
        self.motion.way().grown(ON)
    }
}

/// The ways that tools have taken so far.
#[derive(Default)]
struct Taken<'a> {
    ways: Vec<Way<'a>>,
    near: RTree<Numbered>,
}

impl<'a> Taken<'a> {
    fn holds(&self, way: &Way) -> bool {
        let room = envelope(Bounds::new(way.from, way.to).grown(ON));
        let mut near = self.near.locate_in_envelope_intersecting(room);
        near.any(|other| self.ways[other.data].holds(way))
    }

    fn add(&mut self, way: Way<'a>) {
        self.near.insert(numbered(way.bounds(), self.ways.len()));
        self.ways.push(way);
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::shape::area;

    fn motion(
        from: (f64, f64),
        to: (f64, f64),
        z: (f64, f64),
        arc: Option<(Point, bool)>,
    ) -> Motion {
        Motion {
            line: 1,
            rapid: false,
            from: Point::new(from.0, from.1),
            from_z: z.0,
            to: Point::new(to.0, to.1),
            to_z: z.1,
            arc: arc.map(|(centre, clockwise)| Arc { centre, clockwise }),
            tool: Some(1),
            tool_line: 1,
            feed: None,
            spindle: true,
        }
    }

    fn whole(motion: &Motion) -> Way<'_> {
        Way::new(motion, (0.0, 1.0), 3.0)
    }

    #[test]
    fn a_way_holds_its_parts_and_no_more() {
        let line = |from, to| motion(from, to, (-1.0, -1.0), None);
        let long = line((0.0, 0.0), (100.0, 50.0));
        for (other, held) in [
            (line((20.0, 10.0), (80.0, 40.0)), true),
            (line((80.0, 40.0), (20.0, 10.0)), true),
            (line((20.0, 10.0), (20.0, 10.0)), true),
            (line((20.0, 10.0), (120.0, 60.0)), false),
            (line((20.0, 10.1), (80.0, 40.0)), false),
        ] {
            assert_eq!(whole(&long).holds(&whole(&other)), held, "{other:?}");
        }
        // Three quarters of a circle of 10 about zero, from the right, counter-clockwise.
        let zero = Point::default();
        let arc = |from, to, clockwise| motion(from, to, (-1.0, -1.0), Some((zero, clockwise)));
        let (right, top, left, below) = ((10.0, 0.0), (0.0, 10.0), (-10.0, 0.0), (0.0, -10.0));
        let most = arc(right, below, false);
        for (other, held) in [
            (arc(top, left, false), true),
            (arc(left, top, true), true),
            (arc(right, below, false), true),
            (arc(below, right, true), true),
            (arc(left, right, false), false),
            (arc(below, right, false), false),
            // Its ends are on the other, and what is between them is where the other is not.
            (arc(left, top, false), false),
            (arc(right, right, false), false),
        ] {
            assert_eq!(whole(&most).holds(&whole(&other)), held, "{other:?}");
        }
        let circle = arc(right, right, true);
        assert!(whole(&circle).holds(&whole(&most)));
        assert!(!Way::new(&circle, (0.0, 1.0), 2.0).holds(&whole(&most)));
    }

    /// A ramp along a line, the line itself, and a hole apart from both. By hand: length x 2 r and a disc.
    #[test]
    fn regions_of_two_depths() {
        let setup = Setup {
            size: (300.0, 300.0),
            thickness: 18.0,
            below: 0.0,
            room: [0.0; 4],
            cutters: vec![Cutter {
                number: 1,
                diameter: 6.0,
                pass: 6.0,
                reach: None,
                angle: None,
                plunges: true,
                sideways: true,
            }],
        };
        let motions = [
            motion((50.0, 50.0), (90.0, 50.0), (0.0, -4.0), None),
            motion((90.0, 50.0), (50.0, 50.0), (-4.0, -4.0), None),
            motion((200.0, 200.0), (200.0, 200.0), (5.0, -8.0), None),
        ];
        let levels = gone_at(&motions, &setup, &[5.0, 3.0, 1.0]);
        let disc = PI * 9.0;
        for (level, expected) in levels
            .iter()
            .zip([disc, 2.0 * disc + 240.0, 2.0 * disc + 240.0])
        {
            assert!(
                (area(level) - expected).abs() < 0.2,
                "{} {expected}",
                area(level)
            );
        }
    }
}
