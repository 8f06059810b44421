//! The pieces of a plan moved apart.

use jigless_model::geom::Point;
use jigless_model::plan::Plan;
use jigless_model::whole::{Box3, Direction, Motion, Triple};

use super::explode::{Block, Room, Sequence, explode};
use super::units::Unit;
use crate::piece::Piece;
use crate::view::Camera;

/// Free paper between units, as a share of the diagonal of the whole.
const FREE: f64 = 0.015;

/// Pieces moved apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Apart {
    /// How far each piece is moved; nothing for those of no unit.
    pub offsets: Vec<Triple>,
    /// For each piece the number of its unit.
    pub unit_of: Vec<Option<usize>>,
    /// The way by which each unit came out; none for what stays.
    pub ways: Vec<Option<Direction>>,
    /// Lines of flight on paper, in millimetres of the thing.
    pub flights: Vec<(Point, Point)>,
}

/// Moves units apart; the pieces of each stay together.
pub fn apart(
    plan: &Plan,
    pieces: &[Piece],
    units: &[Unit],
    sequence: Sequence,
    camera: &Camera,
) -> Apart {
    let blocks: Vec<Block> = units
        .iter()
        .map(|unit| Block {
            boxes: unit
                .pieces
                .iter()
                .map(|piece| pieces[*piece].bounds)
                .collect(),
            motion: motion(plan, pieces, unit),
        })
        .collect();
    let all = blocks.iter().flat_map(|block| &block.boxes).copied();
    let diagonal = all.reduce(Box3::union).map_or(0.0, |whole| {
        (0..3)
            .map(|axis| whole.size(axis).powi(2))
            .sum::<f64>()
            .sqrt()
    });
    let explosion = explode(&blocks, sequence, camera, Room(diagonal * FREE));
    let mut offsets = vec![[0.0; 3]; pieces.len()];
    let mut unit_of = vec![None; pieces.len()];
    for (number, unit) in units.iter().enumerate() {
        for piece in &unit.pieces {
            offsets[*piece] = explosion.offsets[number];
            unit_of[*piece] = Some(number);
        }
    }
    Apart {
        offsets,
        unit_of,
        ways: explosion.ways,
        flights: explosion.flights,
    }
}

/// A drawer and a door come out toward the viewer, as they move.
fn motion(plan: &Plan, pieces: &[Piece], unit: &Unit) -> Option<Direction> {
    let whole = unit.pieces.len() > 1;
    let motion = |piece: &usize| plan.parts[pieces[*piece].part].motion;
    unit.pieces
        .iter()
        .filter_map(motion)
        .find_map(|motion| match motion {
            Motion::Slides => whole.then_some(Direction::Front),
            Motion::SwingsLeft | Motion::SwingsRight => Some(Direction::Front),
        })
}
