//! What a plan costs and weighs, and what of that changed.

use jigless_layout::arrange;
use jigless_model::costs::{CostGroup, CostLine, Costs, costs};
use jigless_model::plan::Plan;
use jigless_model::sheets::{Arrangement, Settings};
use jigless_model::units::decimal;
use jigless_model::workpiece::Workpiece;
use jigless_solid::{Weights, finishing, weights};

/// A plan with what it takes, costs and weighs.
#[derive(Debug)]
pub struct Reckoned {
    /// Its parts on sheets and boards.
    pub arrangement: Arrangement,
    /// What is bought.
    pub costs: Costs,
    /// What the parts weigh.
    pub weights: Weights,
    /// What its prices are in, if it says.
    pub currency: Option<String>,
}

impl Reckoned {
    /// Works it out with a layout as `saw` asks for it.
    pub fn of((plan, workpieces): (&Plan, &[Workpiece]), saw: &Settings) -> Self {
        let arrangement = arrange(workpieces, saw);
        let costs = costs(plan, workpieces, &arrangement, &finishing(plan, workpieces));
        Self {
            arrangement,
            costs,
            weights: weights(workpieces),
            currency: plan.prices.currency.clone(),
        }
    }
}

/// A line for each sum that changed.
pub(super) fn cost_changes(before: &Reckoned, after: &Reckoned) -> Vec<String> {
    let mut lines = Vec::new();
    for group in CostGroup::ALL {
        let of = |reckoned: &Reckoned| sum(&of_group(&reckoned.costs, group));
        let (was, is) = (of(before), of(after));
        if was != is {
            lines.push(format!("{}: {was} to {is}", group.name()));
        }
    }
    let (was, is) = (sum(&before.costs), sum(&after.costs));
    if was != is {
        let in_words = |reckoned: &Reckoned| {
            reckoned
                .currency
                .as_ref()
                .map_or_else(String::new, |c| format!(" {c}"))
        };
        let (old, new) = (in_words(before), in_words(after));
        lines.push(if old == new {
            format!("in all: {was} to {is}{new}")
        } else {
            format!("in all: {was}{old} to {is}{new}")
        });
    }
    let weight = |reckoned: &Reckoned| decimal(reckoned.weights.whole, 1);
    let (was, is) = (weight(before), weight(after));
    if was != is {
        lines.push(format!("weight of all parts: {was} to {is} kg"));
    }
    lines
}

fn of_group(costs: &Costs, group: CostGroup) -> Costs {
    let lines = costs.lines.iter().filter(|line| line.group == group);
    Costs {
        lines: lines.cloned().collect(),
    }
}

/// The sum, and how much is not in it; 0 where nothing is bought.
fn sum(costs: &Costs) -> String {
    let without: Vec<&CostLine> = costs.without_price();
    match (costs.total(), without.len()) {
        (Some(total), 0) => format!("{total:.2}"),
        (None, 0) => "0".to_owned(),
        (Some(total), count) => format!("{total:.2} without {count} that have no price"),
        (None, _) => "no price".to_owned(),
    }
}
