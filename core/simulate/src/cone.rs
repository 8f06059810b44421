//! Conical mouths: each was made by a tool of its angle, straight down to its depth.

use crate::fault::{Fault, FaultKind};
use crate::program::Program;
use crate::setup::Setup;
use crate::target::Target;

/// How far a mouth may be off in place and depth, in millimetres.
const TOLERANCE: f64 = 0.02;

/// Holds each conical mouth against the tool that went there.
pub(crate) fn check(program: &Program, setup: &Setup, target: &Target, faults: &mut Vec<Fault>) {
    for cone in &target.cones {
        let mut deepest: Option<(f64, usize)> = None;
        for motion in &program.motions {
            let cutter = motion.tool.and_then(|tool| setup.cutter(tool));
            let suits = cutter
                .and_then(|cutter| cutter.angle)
                .is_some_and(|angle| (angle - cone.angle).abs() < 0.01);
            let depth = -motion.to_z;
            let near = motion.to.distance(cone.centre) < TOLERANCE;
            if suits && near && deepest.is_none_or(|(other, _)| depth > other) {
                deepest = Some((depth, motion.line));
            }
        }
        let (x, y) = (cone.centre.x, cone.centre.y);
        match deepest {
            Some((depth, _)) if (depth - cone.depth).abs() < TOLERANCE => {}
            Some((depth, line)) => faults.push(Fault::new(
                line,
                if depth > cone.depth {
                    FaultKind::PartDamaged
                } else {
                    FaultKind::WoodLeft
                },
                format!(
                    "the countersink at {x:.2}, {y:.2} is {depth:.2} mm deep instead of {:.2}",
                    cone.depth
                ),
            )),
            None => faults.push(Fault::new(
                program.motions.last().map_or(1, |motion| motion.line),
                FaultKind::WoodLeft,
                format!("no countersink was made at {x:.2}, {y:.2}"),
            )),
        }
    }
}
