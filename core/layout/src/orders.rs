//! The orders in which pieces are tried: an arranger puts each where it fits best and never moves it again, so what comes
//! first decides how much is left for the rest.

use super::Piece;

/// How many pieces are placed in all orders together, at most, and in one order however many there are. A large plan
/// fills its sheets well in any order, and this is what keeps the time within bounds.
const MOST_TRIED: usize = 400;

/// What pieces are sorted by, the largest first, from the width and height of their boxes: the first and, between
/// equals, the second.
type Measure = fn(f64, f64) -> (f64, f64);

/// The orders that are tried, as far as the number of pieces allows.
const MEASURES: [Measure; 4] = [
    |w, h| (w.max(h), w * h),
    |w, h| (w * h, w.max(h)),
    |w, h| (w.min(h), w.max(h)),
    |w, h| (w + h, w.max(h)),
];

/// Numbers of the pieces in the orders that are worth trying, without those that come out the same.
pub(super) fn of(pieces: &[Piece]) -> Vec<Vec<usize>> {
    let sizes: Vec<(f64, f64)> = pieces
        .iter()
        .map(|piece| {
            let bounds = piece.outline.bounds();
            bounds.map_or((0.0, 0.0), |b| (b.width(), b.height()))
        })
        .collect();
    let tried = (MOST_TRIED / pieces.len().max(1)).clamp(1, MEASURES.len());
    let mut orders: Vec<Vec<usize>> = Vec::new();
    for measure in &MEASURES[..tried] {
        // To a millimetre: equals keep the order of the plan, and stay together.
        let key = |&i: &usize| {
            let (first, second) = measure(sizes[i].0, sizes[i].1);
            (first.round(), second.round())
        };
        let mut order: Vec<usize> = (0..pieces.len()).collect();
        order.sort_by(|a, b| {
            let (a, b) = (key(a), key(b));
            b.0.total_cmp(&a.0).then(b.1.total_cmp(&a.1))
        });
        if !orders.contains(&order) {
            orders.push(order);
        }
    }
    orders
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::piece::pieces_of;
    use jigless_model::geom::{Bounds, rectangle};

    fn orders(sizes: &[(f64, f64)]) -> Vec<Vec<usize>> {
        let outlines: Vec<_> = sizes
            .iter()
            .map(|&(w, h)| rectangle(Bounds::of_size(w, h)))
            .collect();
        of(&pieces_of(&outlines, &[0]))
    }

    #[test]
    fn orders_that_are_the_same_are_tried_once() {
        assert_eq!(orders(&[(5.0, 5.0), (9.0, 9.0)]), [[1, 0]]);
        // The strip is the longer one, the plate the larger and the wider one.
        assert_eq!(orders(&[(60.0, 60.0), (100.0, 2.0)]), [[1, 0], [0, 1]]);
    }

    #[test]
    fn large_plans_are_arranged_in_one_order() {
        let sizes: Vec<(f64, f64)> = (1..=MOST_TRIED)
            .map(|i| (i as f64, (i * 7919 % 400) as f64))
            .collect();
        assert_eq!(orders(&sizes).len(), 1);
        assert!(orders(&sizes[..100]).len() > 1);
    }
}
