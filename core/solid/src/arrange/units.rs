//! Pieces that belong together: those of one drawer, frame or tray.

use jigless_model::plan::Plan;

use crate::piece::Piece;

/// Pieces of one group that touch, or a piece that belongs to none; by their numbers among the pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unit {
    /// Numbers of its pieces, in the order in which they are put together.
    pub pieces: Vec<usize>,
    /// The group, if it is one.
    pub group: Option<String>,
}

/// Boxes that are apart by less than this, in millimetres, touch.
const TOUCH: f64 = 1.0;

/// The units of a plan in the order in which they are put together.
pub fn units(plan: &Plan, pieces: &[Piece]) -> Vec<Unit> {
    let group = |piece: &Piece| plan.parts[piece.part].group.as_deref();
    let mut owner: Vec<usize> = (0..pieces.len()).collect();
    for one in 0..pieces.len() {
        for other in 0..one {
            let (a, b) = (&pieces[one], &pieces[other]);
            let together = group(a).is_some() && group(a) == group(b);
            if together && a.bounds.apart(b.bounds) < TOUCH && belong(plan, a, b) {
                let (from, to) = (owner[one], owner[other]);
                for own in &mut owner {
                    if *own == from {
                        *own = to;
                    }
                }
            }
        }
    }
    let step = |piece: usize| {
        let id = &pieces[piece].id;
        plan.order
            .iter()
            .position(|step| step.part == *id)
            .unwrap_or(usize::MAX)
    };
    let mut units: Vec<Unit> = Vec::new();
    for first in 0..pieces.len() {
        let mut members: Vec<usize> = (0..pieces.len())
            .filter(|n| owner[*n] == owner[first])
            .collect();
        if members[0] != first {
            continue;
        }
        members.sort_by_key(|piece| (step(*piece), *piece));
        units.push(Unit {
            group: group(&pieces[first]).map(str::to_owned),
            pieces: members,
        });
    }
    units.sort_by_key(|unit| {
        let first = unit.pieces.iter().map(|piece| step(*piece)).min();
        (first, unit.pieces[0])
    });
    units
}

/// Whether two pieces of a group are of the same unit of it: of those that are joined, the joint says; the others touch.
fn belong(plan: &Plan, one: &Piece, other: &Piece) -> bool {
    let mut joined = false;
    for joint in &plan.joints {
        let (a, b) = if joint.part == one.id && joint.to == other.id {
            (one.number, other.number)
        } else if joint.part == other.id && joint.to == one.id {
            (other.number, one.number)
        } else {
            continue;
        };
        joined = true;
        if joint
            .meetings
            .iter()
            .any(|m| m.part_piece == a && m.to_piece == b)
        {
            return true;
        }
    }
    // Pieces of the same part side by side are of two units.
    !joined && one.id != other.id
}
