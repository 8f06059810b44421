//! What parts weigh.

use jigless_model::plan::Plan;
use jigless_model::usage::Usage;
use jigless_model::workpiece::Workpiece;

use crate::solid::solid;

/// What some parts weigh, in kilograms, without hardware, glue and finish.
#[derive(Debug, Clone, PartialEq)]
pub struct Weights {
    /// One piece of each part, in their order; `None` where the plan gives its stock no density and no weight.
    pub pieces: Vec<Option<f64>>,
    /// All pieces whose weight is known.
    pub whole: f64,
    /// Labels of the stocks whose weight is not known.
    pub unknown: Vec<String>,
}

impl Weights {
    /// For each limit of the plan that the whole is heavier than: what one person lifts, in kilograms, and how many people
    /// the whole wants.
    pub fn people(&self, plan: &Plan) -> Vec<(f64, f64)> {
        let limits = plan.usage.iter().filter_map(|entry| match &entry.what {
            Usage::Lifting(lifting) => Some(lifting.alone.value),
            _ => None,
        });
        limits
            .filter(|alone| self.whole > *alone)
            .map(|alone| (alone, (self.whole / alone).ceil()))
            .collect()
    }
}

/// What parts weigh: the volume of their bodies by the density of their stock.
pub fn weights(workpieces: &[Workpiece]) -> Weights {
    let mut weights = Weights {
        pieces: Vec::with_capacity(workpieces.len()),
        whole: 0.0,
        unknown: Vec::new(),
    };
    for workpiece in workpieces {
        let part = &workpiece.part;
        let one = part
            .stock
            .density
            .map(|density| solid(workpiece).mesh.measures().volume * density * 1e-9);
        match one {
            Some(one) => weights.whole += one * f64::from(part.count),
            None if weights.unknown.contains(&part.stock.label) => {}
            None => weights.unknown.push(part.stock.label.clone()),
        }
        weights.pieces.push(one);
    }
    weights
}
