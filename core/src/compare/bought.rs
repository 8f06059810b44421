//! What changed in the sheets and boards that a layout by straight cuts uses.

use std::collections::BTreeMap;

use jigless_layout::arrange;
use jigless_model::sheets::{Settings, SheetOrigin, StockGoods, StockLayout};
use jigless_model::units::{Unit, decimal};
use jigless_model::workpiece::Workpiece;

/// Sheets or boards of one size.
#[derive(Default, Clone, Copy, PartialEq, Eq)]
struct Taken {
    at_hand: u32,
    to_buy: u32,
}

/// What a layout uses, and what is paid for it.
struct Use {
    /// By what it is called.
    sizes: BTreeMap<String, Taken>,
    /// The prices of what is bought, where each of them has one.
    cost: Option<f64>,
}

/// A line for each size of which more or fewer are used, and one for the cost.
pub(super) fn bought_changes(
    before: &[Workpiece],
    after: &[Workpiece],
    saw: &Settings,
    unit: Unit,
) -> Vec<String> {
    let (before, after) = (used(before, saw, unit), used(after, saw, unit));
    let mut names: Vec<&String> = before.sizes.keys().chain(after.sizes.keys()).collect();
    names.sort();
    names.dedup();
    let mut lines = Vec::new();
    for name in names {
        let of = |used: &Use| used.sizes.get(name).copied().unwrap_or_default();
        let (was, is) = (of(&before), of(&after));
        for (what, was, is) in [
            ("to buy", was.to_buy, is.to_buy),
            ("of those at hand", was.at_hand, is.at_hand),
        ] {
            if was != is {
                lines.push(format!("{name}, {what}: {was} to {is}"));
            }
        }
    }
    if let (Some(was), Some(is)) = (before.cost, after.cost)
        && (was - is).abs() >= 0.005
    {
        lines.push(format!(
            "cost of these: {} to {}",
            decimal(was, 2),
            decimal(is, 2)
        ));
    }
    lines
}

fn used(workpieces: &[Workpiece], saw: &Settings, unit: Unit) -> Use {
    let mut used = Use {
        sizes: BTreeMap::new(),
        cost: Some(0.0),
    };
    for layout in &arrange(workpieces, saw).stocks {
        for (size, origin, count) in layout.taken() {
            let taken = used.sizes.entry(name_of(layout, size, unit)).or_default();
            match origin {
                SheetOrigin::ToBuy => {
                    taken.to_buy += count;
                    let price = price_of(layout, size);
                    used.cost = used
                        .cost
                        .zip(price)
                        .map(|(sum, one)| sum + one * f64::from(count));
                }
                SheetOrigin::AtHand | SheetOrigin::Leftover => taken.at_hand += count,
            }
        }
    }
    used
}

fn name_of(layout: &StockLayout, size: usize, unit: Unit) -> String {
    let word = match &layout.goods {
        StockGoods::Sheets(..) => "sheets",
        StockGoods::Boards(..) => "boards",
    };
    let (length, width) = layout.size(size);
    let (length, width) = (unit.show(length), unit.show(width));
    format!("{}, {word} of {length} by {width}", layout.stock.label)
}

fn price_of(layout: &StockLayout, size: usize) -> Option<f64> {
    match &layout.goods {
        StockGoods::Sheets(problem, _) => problem.sizes[size].price,
        StockGoods::Boards(problem, _) => problem.lengths[size].price,
    }
}
