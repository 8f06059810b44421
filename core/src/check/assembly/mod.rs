//! What can be wrong with the whole: parts that run into each other, screws that come out, doors and drawers that do not
//! move. Only parts that have places are looked at.

mod collision;
mod motion;
mod screws;
mod solid;

pub use solid::Solid;

use crate::diag::Findings;
use crate::plan::Plan;
use crate::workpiece::Workpiece;

/// Boxes that overlap by less only touch, in millimetres: far below what anyone can cut.
pub const TOLERANCE: f64 = 0.01;

/// Every piece that has a place, in the order of the plan.
pub fn solids(workpieces: &[Workpiece]) -> Vec<Solid<'_>> {
    workpieces
        .iter()
        .flat_map(|workpiece| {
            let bodies = workpiece.part.bodies();
            bodies
                .into_iter()
                .map(move |body| Solid::new(workpiece, body))
        })
        .collect()
}

/// Runs every check of the whole.
pub fn check(plan: &Plan, workpieces: &[Workpiece], findings: &mut Findings) {
    let solids = solids(workpieces);
    collision::check(plan, &solids, findings);
    screws::check(plan, findings);
    motion::check(plan, &solids, findings);
}
