//! How tools enter wood, in the order of the program: no rapid through it, no plunge by a tool that cannot, no pass that
//! is too deep.

use std::collections::HashMap;

use rayon::iter::{IndexedParallelIterator, IntoParallelRefIterator, ParallelIterator};
use rstar::{AABB, RTree};

use crate::area::reach;
use crate::fault::{Fault, FaultKind};
use crate::program::{Motion, Program};
use crate::setup::{Cutter, Setup};
use crate::shape::{Polygon, area, union, without};
use crate::sweep::{Track, passed_at, track};
use crate::swept::{Boxed, boxed};

/// Lengths that differ by less, in millimetres, are equal here.
const NEAR: f64 = 1e-4;
/// Wood that a rapid or plunge may touch, in square millimetres: what straight pieces leave of arcs.
const SPECK: f64 = 0.05;
/// By how much less than its diameter a tool is looked at here, in millimetres.
const HAIR: f64 = 0.03;
/// A way down that is steeper than this (height over length) is a plunge.
const STEEPEST: f64 = 1.0;

/// The motions that came before, by place.
struct Before<'a> {
    program: &'a Program,
    setup: &'a Setup,
    near: RTree<Boxed>,
    /// How deep the track of each motion had been followed when it began.
    followed: Vec<f64>,
}

/// Goes through a program in its order.
pub(crate) fn check(program: &Program, setup: &Setup, faults: &mut Vec<Fault>) {
    let motions = program.motions.iter().enumerate();
    let boxes = motions.filter_map(|(index, motion)| boxed(motion, index, setup));
    let before = Before {
        program,
        setup,
        near: RTree::bulk_load(boxes.collect()),
        followed: followed(program, setup),
    };
    // Each is judged by itself, on several threads; the faults are in the order of the program for any number of them.
    let motions = program.motions.par_iter().enumerate();
    let found = motions.filter_map(|(index, motion)| before.judge(index, motion));
    faults.extend(found.collect::<Vec<Fault>>());
}

/// How deep the track of each motion had been followed when it began; 0 where it had not been.
fn followed(program: &Program, setup: &Setup) -> Vec<f64> {
    let mut deepest: HashMap<Track, f64> = HashMap::new();
    let mut follow = |motion: &Motion| {
        let Some(cutter) = motion.tool.and_then(|tool| setup.cutter(tool)) else {
            return 0.0;
        };
        let so_far = deepest
            .entry(track(motion, cutter.diameter / 2.0))
            .or_insert(0.0);
        let before = *so_far;
        // All of the track has been as deep as its shallower end, and a tool that went straight down as deep as it went.
        let depth = if motion.length_in_plane() < NEAR {
            -motion.lowest()
        } else {
            -motion.from_z.max(motion.to_z)
        };
        *so_far = so_far.max(depth);
        before
    };
    program.motions.iter().map(&mut follow).collect()
}

impl Before<'_> {
    fn judge(&self, index: usize, motion: &Motion) -> Option<Fault> {
        let lowest = motion.lowest();
        if lowest > -NEAR {
            return None;
        }
        let line = motion.line;
        let tool = |message: String, kind: FaultKind| {
            Some(Fault::new(
                line,
                kind,
                format!("{message} (tool called in line {})", motion.tool_line),
            ))
        };
        let Some(number) = motion.tool else {
            return Some(Fault::new(
                line,
                FaultKind::NotReady,
                "wood is touched without a tool",
            ));
        };
        let Some(cutter) = self.setup.cutter(number) else {
            let message = format!("the machine has no tool {number}");
            return tool(message, FaultKind::UnknownTool);
        };
        let flat = motion.from.distance(motion.to) + if motion.arc.is_some() { 1.0 } else { 0.0 };
        let rises = motion.to_z >= motion.from_z;
        if motion.rapid {
            // Straight up where it just was.
            if flat < NEAR && rises {
                return None;
            }
            let wood = self.wood(index, motion, cutter, -lowest - NEAR);
            let message = format!("a rapid goes through wood, {:.2} mm deep", -lowest);
            return (wood > SPECK).then(|| Fault::new(line, FaultKind::RapidThroughWood, message));
        }
        if let Some(reach) = cutter.reach.filter(|reach| -lowest > reach + NEAR) {
            let message = format!("{:.2} mm deep, and the tool reaches {reach:.2}", -lowest);
            return tool(message, FaultKind::TooDeep);
        }
        if !cutter.sideways && flat > NEAR {
            let message = "a tool that only goes down goes sideways in wood".to_owned();
            return tool(message, FaultKind::Plunge);
        }
        let steep = motion.from_z - motion.to_z > STEEPEST * motion.length_in_plane() + NEAR;
        if steep && !cutter.plunges {
            let wood = self.wood(index, motion, cutter, -lowest - NEAR);
            if wood > SPECK {
                let message = "straight down into wood by a tool that cannot".to_owned();
                return tool(message, FaultKind::Plunge);
            }
        }
        let above = -lowest - cutter.pass - NEAR;
        let known = self.followed[index] >= above;
        // A cone's pass is its whole depth: its chips leave sideways.
        if above > NEAR && !known && cutter.angle.is_none() {
            let wood = self.wood(index, motion, cutter, above);
            if wood > SPECK {
                let message = format!(
                    "{:.2} mm deep through wood that is higher than the {:.2} mm of one pass",
                    -lowest, cutter.pass
                );
                return tool(message, FaultKind::TooDeep);
            }
        }
        None
    }

    /// How much of what a motion passes over at a depth was still there when it began, in square millimetres.
    fn wood(&self, index: usize, motion: &Motion, cutter: &Cutter, depth: f64) -> f64 {
        let mut own: Vec<Polygon> = Vec::new();
        // A hair narrower: ways along one arc that begin elsewhere have their straight pieces elsewhere.
        let narrow = Cutter {
            diameter: cutter.diameter - HAIR,
            ..*cutter
        };
        passed_at(motion, &narrow, depth.max(NEAR), &mut own);
        if own.is_empty() {
            return 0.0;
        }
        let around = reach(motion, cutter.diameter / 2.0);
        let room = AABB::from_corners([around.min.x, around.min.y], [around.max.x, around.max.y]);
        let mut gone: Vec<Polygon> = Vec::new();
        for near in self.near.locate_in_envelope_intersecting(room) {
            if near.data >= index {
                continue;
            }
            let other = &self.program.motions[near.data];
            if let Some(by) = other.tool.and_then(|tool| self.setup.cutter(tool)) {
                passed_at(other, by, depth.max(NEAR), &mut gone);
            }
        }
        area(&without(&union(&own), &union(&gone)))
    }
}
