//! Whether the parts in their places make a whole: nothing in the way of anything else, and nothing left in the air.

mod along;
pub(super) mod as_cut;
pub(super) mod bolts;
pub(super) mod covered;
pub(super) mod door_strikes;
pub(super) mod drawer_blocked;
pub(super) mod fasteners;
mod hinge_arms;
pub(super) mod joint_ends;
pub(super) mod labels;
pub(super) mod lifts;
pub(super) mod parts_collide;
pub(super) mod paths;
pub(super) mod pieces;
pub(super) mod reach;
pub(super) mod screws;
pub(super) mod space;
mod turns;
pub(super) mod ways;

use jigless_model::workpiece::Workpiece;

use crate::solid::Solid;

/// Boxes that overlap by less only touch, in millimetres: far below what anyone can cut.
pub const TOLERANCE: f64 = 0.005;

/// Every piece that has a place, in the order of the plan.
pub fn solids(workpieces: &[Workpiece]) -> Vec<Solid<'_>> {
    crate::assembled::solids(workpieces)
}
