//! When each piece comes in the order of the work.

use std::collections::BTreeMap;

use crate::Scene;

/// For each placed piece, the number of its part in the order of the plan.
pub(super) fn turns(scene: &Scene) -> Vec<Option<usize>> {
    let steps = scene.plan.order.iter().enumerate();
    let by_part: BTreeMap<&str, usize> = steps
        .map(|(turn, step)| (step.part.as_str(), turn))
        .collect();
    let solids = scene.assembled.solids.iter();
    solids
        .map(|solid| by_part.get(solid.workpiece.part.id.as_str()).copied())
        .collect()
}
