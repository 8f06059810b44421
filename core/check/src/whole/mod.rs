//! What can be wrong with the whole: parts that run into each other, screws that come out, doors and drawers that do not
//! move. Only parts that have places are looked at.

pub(super) mod door_strikes;
pub(super) mod drawer_blocked;
pub(super) mod parts_collide;
pub(super) mod screws;
mod solid;

pub use solid::Solid;

use jigless_model::workpiece::Workpiece;

use crate::Scene;

/// Boxes that overlap by less only touch, in millimetres: far below what anyone can cut.
pub const TOLERANCE: f64 = 0.005;

/// Every piece that has a place, in the order of the plan.
pub fn solids(workpieces: &[Workpiece]) -> Vec<Solid<'_>> {
    workpieces.iter().flat_map(pieces_of).collect()
}

fn solids_in<'a>(scene: &Scene<'a>) -> Vec<Solid<'a>> {
    let workpieces = scene.all_pieces().map(|piece| piece.workpiece);
    workpieces.flat_map(pieces_of).collect()
}

fn pieces_of(workpiece: &Workpiece) -> impl Iterator<Item = Solid<'_>> {
    let bodies = workpiece.part.bodies();
    bodies
        .into_iter()
        .map(move |body| Solid::new(workpiece, body))
}
