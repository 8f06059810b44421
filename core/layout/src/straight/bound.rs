//! How many equal sheets any layout needs, straight cuts or not.
//!
//! By dual feasible functions (Fekete and Schepers 2001 and 2004; Carlier, Clautiaux and Moukrim 2007, the first
//! family): with `f` on widths and `g` on heights, the sum of `f(width) * g(height)` is a bound. Where a piece may be
//! turned the smaller of its two values counts, which keeps the bound valid.

use std::cmp::Ordering;

use super::search::Item;

/// A sum is only taken for more than a whole number where it is by more than the rounding of the arithmetic.
const NOISE: f64 = 1e-6;

/// Families are as many as there are sizes, and every pair is tried; beyond this many kinds only some of them are.
const MOST_MARKS: usize = 160;

/// The least number of sheets of a size, all sizes grown by the kerf.
pub(super) fn least_sheets(items: &[Item], (width, height): (i32, i32)) -> usize {
    let turning = items.iter().any(|item| item.may_turn);
    let mut widths: Vec<i64> = items.iter().map(|item| i64::from(item.width)).collect();
    let mut heights: Vec<i64> = items.iter().map(|item| i64::from(item.height)).collect();
    if turning {
        let both: Vec<i64> = widths.iter().chain(&heights).copied().collect();
        widths.clone_from(&both);
        heights = both;
    }
    let by_width = families(&widths, i64::from(width));
    let by_height = families(&heights, i64::from(height));
    let count = items.len();
    let mut most = 0.0_f64;
    for f in &by_width {
        for g in &by_height {
            let mut sum = 0.0;
            for (index, item) in items.iter().enumerate() {
                let (w, h) = (item.width, item.height);
                let upright = if w <= width && h <= height {
                    f[index] * g[if turning { count + index } else { index }]
                } else {
                    f64::INFINITY
                };
                let value = if item.may_turn && h <= width && w <= height {
                    upright.min(f[count + index] * g[index])
                } else {
                    upright
                };
                sum += value * f64::from(item.count);
            }
            most = most.max(sum);
        }
    }
    (most - NOISE).ceil() as usize
}

/// Functions of a size, scaled so that a full side is 1: the values of each for all sizes.
fn families(sizes: &[i64], side: i64) -> Vec<Vec<f64>> {
    let share = |x: i64| x as f64 / side as f64;
    let mut rows: Vec<Vec<f64>> = vec![sizes.iter().map(|&x| share(x)).collect()];
    for k in 1..8 {
        let value = |&x: &i64| {
            if x * (k + 1) % side == 0 {
                share(x)
            } else {
                (x * (k + 1) / side) as f64 / k as f64
            }
        };
        rows.push(sizes.iter().map(value).collect());
    }
    let small = sizes.iter().copied().filter(|x| 2 * x <= side);
    let large = sizes.iter().filter(|&&x| 2 * x >= side && x < side);
    let mut marks: Vec<i64> = small
        .chain(large.map(|x| side - x))
        .filter(|x| *x > 0)
        .collect();
    marks.sort_unstable();
    marks.dedup();
    let every = marks.len().div_ceil(MOST_MARKS).max(1);
    for e in marks.into_iter().step_by(every) {
        let p = side / e;
        rows.push(
            sizes
                .iter()
                .map(|&x| {
                    if x > side - e {
                        1.0
                    } else if x < e {
                        0.0
                    } else {
                        share(x)
                    }
                })
                .collect(),
        );
        let step = |&x: &i64| {
            if 2 * x > side {
                1.0 - ((side - x) / e) as f64 / p as f64
            } else if x >= e {
                1.0 / p as f64
            } else {
                0.0
            }
        };
        rows.push(sizes.iter().map(step).collect());
        let round = |&x: &i64| {
            let value = match (2 * x).cmp(&side) {
                Ordering::Greater => 2 * (p - (side - x) / e),
                Ordering::Equal => p,
                Ordering::Less => 2 * (x / e),
            };
            value as f64 / (2 * p) as f64
        };
        rows.push(sizes.iter().map(round).collect());
    }
    rows.sort_by(|a, b| a.partial_cmp(b).unwrap_or(Ordering::Equal));
    rows.dedup();
    rows
}
