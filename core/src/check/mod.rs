//! What can be wrong with work that each feature alone finds in order: checks on the lowered parts, one module each.
//!
//! They run on workpieces and not on features, because only there the true contour is known, and because one check then
//! serves every feature that drills or mills.

pub mod assembly;
mod hole_outside_part;

use crate::diag::Findings;
use crate::plan::Plan;
use crate::workpiece::Workpiece;

/// Runs every check.
pub fn check(plan: &Plan, workpieces: &[Workpiece]) -> Findings {
    let mut findings = Findings::new();
    for workpiece in workpieces {
        // The mirror image has the same faults at the same places of the text, unless it has work of its own.
        let own = workpiece.part.features.iter().any(|f| f.only.is_some());
        if own || !workpiece.part.is_mirrored() {
            hole_outside_part::check(plan, workpiece, &mut findings);
        }
    }
    assembly::check(plan, workpieces, &mut findings);
    findings
}
