//! Doors swung open and drawers pulled out, by their own motion.

use jigless_model::plan::Plan;
use jigless_model::side::Edge;
use jigless_model::whole::{Body, Direction, Motion, Side};

use super::units::Unit;
use crate::piece::Piece;
use crate::pose::Pose;

/// A door is shown swung open so far, in radians: 100 degrees, so that it does not hide behind its own edge.
const SWUNG: f64 = 100.0 / 180.0 * std::f64::consts::PI;
/// A drawer is shown pulled out by this share of its depth; one below another by more, so that each is seen into.
const PULLED: f64 = 0.4;
const MORE: f64 = 0.2;

/// Where each piece is when everything that moves is open; `None` where nothing moves.
pub fn opened(plan: &Plan, pieces: &[Piece], units: &[Unit]) -> Option<Vec<Pose>> {
    let mut poses: Vec<Pose> = pieces.iter().map(|piece| piece.pose).collect();
    let mut moved = false;
    let slides = |unit: &Unit| {
        let mut of = unit.pieces.iter();
        of.any(|n| plan.parts[pieces[*n].part].motion == Some(Motion::Slides))
    };
    let around = |unit: &Unit| {
        let boxes = unit.pieces.iter().map(|n| pieces[*n].bounds);
        boxes.reduce(jigless_model::whole::Box3::union)
    };
    let drawers: Vec<&Unit> = units.iter().filter(|unit| slides(unit)).collect();
    for unit in &drawers {
        let Some(own) = around(unit) else { continue };
        // Those that stand over it in the same room.
        let above = drawers
            .iter()
            .filter_map(|other| around(other))
            .filter(|other| {
                other.min[1] > own.min[1] + 1.0 && other.common(own).size(0) > 0.5 * own.size(0)
            });
        let share = (PULLED + MORE * above.count() as f64).min(0.9);
        let out = [0.0, 0.0, own.size(2) * share];
        for piece in &unit.pieces {
            poses[*piece] = poses[*piece].moved(out);
            moved = true;
        }
    }
    for (number, piece) in pieces.iter().enumerate() {
        let part = &plan.parts[piece.part];
        let Some(edge) = part.motion.and_then(Motion::swings_about) else {
            continue;
        };
        let hinge = looks(part.bodies()[piece.number], edge, part.is_mirrored());
        let own = piece.bounds;
        let about = match hinge {
            Direction::Left => [own.min[0], 0.0, own.min[2]],
            Direction::Right => [own.max[0], 0.0, own.min[2]],
            _ => continue,
        };
        let angle = if hinge == Direction::Left {
            -SWUNG
        } else {
            SWUNG
        };
        poses[number] = piece.pose.swung(about, angle);
        moved = true;
    }
    moved.then_some(poses)
}

/// Where an edge of a part looks in the whole. A body's coordinates are those of the part that the plan describes, its
/// motion is its own.
fn looks(body: Body, edge: Edge, image: bool) -> Direction {
    let edge = if image { edge.mirrored() } else { edge };
    body.looks(Side::Edge(edge))
}
