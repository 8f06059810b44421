//! The order in which a tool comes to shapes: from where it is to the nearest that is left.

use std::collections::{BTreeMap, VecDeque};

use jigless_model::geom::Point;
use rstar::RTree;

/// Squared distances that differ by less than this share of them are compared by the distances themselves.
const ALIKE: f64 = 1e-9;

/// Numbers of shapes, each of which starts nearest to where the one before it ends; of those as near, the first. Shapes
/// have a start and an end.
pub(super) fn nearest_first(ends: &[(Point, Point)], from: Point) -> Vec<usize> {
    let mut waiting: BTreeMap<[u64; 2], VecDeque<usize>> = BTreeMap::new();
    for (number, (start, _)) in ends.iter().enumerate() {
        waiting
            .entry(key(place(*start)))
            .or_default()
            .push_back(number);
    }
    let places = waiting.keys().map(|bits| bits.map(f64::from_bits));
    let mut tree = RTree::bulk_load(places.collect());
    let mut order = Vec::with_capacity(ends.len());
    let mut at = from;
    while let Some((here, number)) = nearest(&tree, &waiting, at) {
        order.push(number);
        at = ends[number].1;
        let here_too = waiting.entry(key(here)).or_default();
        here_too.pop_front();
        if here_too.is_empty() {
            tree.remove(&here);
        }
    }
    order
}

/// The place nearest to a point at which a shape waits, and the first that waits there.
fn nearest(
    tree: &RTree<[f64; 2]>,
    waiting: &BTreeMap<[u64; 2], VecDeque<usize>>,
    at: Point,
) -> Option<([f64; 2], usize)> {
    let mut near = tree
        .nearest_neighbor_iter_with_distance_2([at.x, at.y])
        .peekable();
    let least = near.peek()?.1;
    let alike = near.take_while(|(_, square)| *square <= least * (1.0 + ALIKE));
    let first = alike.filter_map(|(place, _)| {
        let number = *waiting.get(&key(*place))?.front()?;
        Some((at.distance(Point::new(place[0], place[1])), number, *place))
    });
    let first = first.min_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)))?;
    Some((first.2, first.1))
}

/// A point without a sign at zero, so that one place has one key.
fn place(point: Point) -> [f64; 2] {
    [point.x + 0.0, point.y + 0.0]
}

fn key(place: [f64; 2]) -> [u64; 2] {
    place.map(f64::to_bits)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The same by looking at all that are left.
    fn by_looking_at_all(ends: &[(Point, Point)], from: Point) -> Vec<usize> {
        let mut left: Vec<usize> = (0..ends.len()).collect();
        let mut order = Vec::new();
        let mut at = from;
        while !left.is_empty() {
            let distance = |number: &usize| at.distance(ends[*number].0);
            let nearest = (0..left.len())
                .min_by(|a, b| distance(&left[*a]).total_cmp(&distance(&left[*b])))
                .unwrap();
            let number = left.remove(nearest);
            at = ends[number].1;
            order.push(number);
        }
        order
    }

    proptest! {
        /// On a coarse grid, so that many are as near as others and many start in one place.
        #[test]
        fn the_order_is_that_of_looking_at_all(
            places in prop::collection::vec((-4..5i8, -4..5i8, -4..5i8, -4..5i8), 0..120),
        ) {
            let point = |x: i8, y: i8| Point::new(f64::from(x) * 0.1, f64::from(y) * 0.1);
            let ends: Vec<(Point, Point)> =
                places.iter().map(|(a, b, c, d)| (point(*a, *b), point(*c, *d))).collect();
            let from = Point::new(-0.0, 0.0);
            prop_assert_eq!(nearest_first(&ends, from), by_looking_at_all(&ends, from));
        }
    }

    /// The square of their number would be ten thousand million looks.
    #[test]
    fn a_hundred_thousand_shapes_are_put_in_order() {
        let at = |i: usize| Point::new((i % 400) as f64, (i / 400) as f64);
        let mut ends: Vec<(Point, Point)> = (0..50_000).map(|i| (at(i), at(i))).collect();
        ends.extend(vec![(at(7), at(7)); 50_000]);
        let order = nearest_first(&ends, Point::default());
        assert_eq!(order.len(), 100_000);
        assert_eq!(order[..8], [0, 1, 2, 3, 4, 5, 6, 7]);
        assert_eq!(order[8..50_008], (50_000..100_000).collect::<Vec<_>>());
    }
}
