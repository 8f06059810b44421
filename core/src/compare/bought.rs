//! What changed in the sheets and boards that a layout by straight cuts uses.

use std::collections::BTreeMap;

use jigless_model::sheets::{Arrangement, SheetOrigin, StockGoods, StockLayout};
use jigless_model::units::Unit;

/// Sheets or boards of one size.
#[derive(Default, Clone, Copy, PartialEq, Eq)]
struct Taken {
    at_hand: u32,
    to_buy: u32,
}

/// A line for each size of which more or fewer are used.
pub(super) fn bought_changes(before: &Arrangement, after: &Arrangement, unit: Unit) -> Vec<String> {
    let (before, after) = (used(before, unit), used(after, unit));
    let mut names: Vec<&String> = before.keys().chain(after.keys()).collect();
    names.sort();
    names.dedup();
    let mut lines = Vec::new();
    for name in names {
        let of = |used: &BTreeMap<String, Taken>| used.get(name).copied().unwrap_or_default();
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
    lines
}

/// What a layout uses, by what it is called.
fn used(arrangement: &Arrangement, unit: Unit) -> BTreeMap<String, Taken> {
    let mut used: BTreeMap<String, Taken> = BTreeMap::new();
    for layout in &arrangement.stocks {
        for (size, origin, count) in layout.taken() {
            let taken = used.entry(name_of(layout, size, unit)).or_default();
            match origin {
                SheetOrigin::ToBuy => taken.to_buy += count,
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
