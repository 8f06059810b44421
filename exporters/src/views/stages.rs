//! How far the whole has come at each step that adds pieces.

use std::collections::BTreeSet;

use jigless_model::plan::Plan;
use jigless_model::whole::Motion;
use jigless_solid::Piece;
use jigless_solid::arrange::Unit;
use jigless_steps::{Phase, WorkStep};

use super::scene::Whole;

/// A step that adds pieces.
pub(crate) struct Stage<'s> {
    pub(crate) step: &'s WorkStep,
    /// Numbers of the pieces that are there before and are shown with it.
    pub(crate) there: Vec<usize>,
    /// What comes new; pieces that are one by then, as those of a drawer, come together.
    pub(crate) new: Vec<Unit>,
}

/// The steps that add pieces with places, in their order. A drawer or the like that is built several times alike is shown
/// once.
pub(crate) fn stages<'s>(plan: &Plan, whole: &Whole, steps: &'s [WorkStep]) -> Vec<Stage<'s>> {
    let mut built: BTreeSet<&str> = BTreeSet::new();
    let mut in_whole: Vec<usize> = Vec::new();
    let mut stages = Vec::new();
    for step in steps.iter().filter(|step| step.adds) {
        let named = |piece: usize| step.pieces.iter().any(|p| p.part == whole.pieces[piece].id);
        if step.phase == Phase::Build {
            // The first unit that has the pieces stands for all.
            let unit = whole
                .units
                .iter()
                .find(|unit| unit.pieces.iter().any(|p| named(*p)));
            let Some(unit) = unit else { continue };
            let own = unit.pieces.iter().copied();
            let (new, rest): (Vec<usize>, Vec<usize>) = own.partition(|piece| named(*piece));
            let was_built = |piece: &usize| built.contains(whole.pieces[*piece].id.as_str());
            let there = rest.into_iter().filter(was_built).collect();
            built.extend(step.pieces.iter().map(|pieces| pieces.part.as_str()));
            let new = new.into_iter().map(alone).collect();
            stages.push(Stage { step, there, new });
            continue;
        }
        let comes = |unit: &&Unit| {
            let by_itself = step.phase == Phase::Fit
                && unit
                    .pieces
                    .iter()
                    .any(|piece| slides(plan, &whole.pieces[*piece]));
            let fresh = unit.pieces.iter().all(|piece| !in_whole.contains(piece));
            fresh && (by_itself || unit.pieces.iter().any(|piece| named(*piece)))
        };
        let new: Vec<Unit> = whole.units.iter().filter(comes).cloned().collect();
        if new.is_empty() {
            continue;
        }
        // What hangs before the rest by then would hide what is laid in.
        let hides = |piece: &usize| step.name == "lay-in" && swings(plan, &whole.pieces[*piece]);
        let there = in_whole
            .iter()
            .copied()
            .filter(|piece| !hides(piece))
            .collect();
        in_whole.extend(new.iter().flat_map(|unit| &unit.pieces));
        stages.push(Stage { step, there, new });
    }
    stages
}

fn alone(piece: usize) -> Unit {
    Unit {
        pieces: vec![piece],
        group: None,
    }
}

fn slides(plan: &Plan, piece: &Piece) -> bool {
    plan.parts[piece.part].motion == Some(Motion::Slides)
}

fn swings(plan: &Plan, piece: &Piece) -> bool {
    let motion = plan.parts[piece.part].motion;
    motion.is_some_and(|motion| motion.swings_about().is_some())
}
