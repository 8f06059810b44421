//! What changed from one plan to another, in words with numbers: its parts, what is screwed in, what is bought and cut, and
//! the order of work.

mod bought;
mod costs;
mod hardware;
mod parts;
mod same;
mod steps;
mod work;

use jigless_model::plan::Plan;
use jigless_model::sheets::Settings;
use jigless_model::workpiece::Workpiece;

pub use costs::Reckoned;
pub use parts::{ChangeKind, PartChange};

/// What changed. Every list is empty where nothing did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Comparison {
    /// Parts in the order of the second plan, those that it lacks at the end.
    pub parts: Vec<PartChange>,
    /// Screws, hinges and the like, a line each.
    pub hardware: Vec<String>,
    /// Sheets and boards that are used.
    pub bought: Vec<String>,
    /// What all that is bought costs, by group and in all, and what the parts weigh.
    pub costs: Vec<String>,
    /// Steps of the order of work.
    pub steps: Vec<String>,
}

impl Comparison {
    /// Whether nothing changed.
    pub fn is_empty(&self) -> bool {
        self.parts.is_empty()
            && self.hardware.is_empty()
            && self.bought.is_empty()
            && self.costs.is_empty()
            && self.steps.is_empty()
    }
}

/// Compares two plans with their parts, in the unit of the second. What is bought comes from a layout as `saw` asks for
/// it.
pub fn compare(
    before: (&Plan, &[Workpiece]),
    after: (&Plan, &[Workpiece]),
    saw: &Settings,
) -> Comparison {
    let unit = after.0.units;
    let (old, new) = (Reckoned::of(before, saw), Reckoned::of(after, saw));
    Comparison {
        parts: parts::part_changes(before.1, after.1, unit),
        hardware: hardware::hardware_changes(before.1, after.1, unit),
        bought: bought::bought_changes(&old.arrangement, &new.arrangement, unit),
        costs: costs::cost_changes(&old, &new),
        steps: steps::step_changes(before, after),
    }
}
