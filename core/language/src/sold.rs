//! Lengths in which screws are sold, and the choice of one from what the geometry asks for.

use jigless_model::units::{MM_PER_INCH, Unit};

use crate::resolve::Context;

/// Lengths of wood screws where the plan gives none. Common practice, no source.
const SCREWS_MM: &[f64] = &[
    8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0,
    120.0,
];
const SCREWS_IN: &[f64] = &[
    0.375, 0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5, 3.0, 3.5, 4.0,
];
/// Lengths of pocket screws where the plan gives none. Common practice, no source.
const POCKET_MM: &[f64] = &[20.0, 25.0, 30.0, 32.0, 38.0, 45.0, 51.0, 64.0];
const POCKET_IN: &[f64] = &[0.75, 1.0, 1.25, 1.5, 2.0, 2.5];

/// Lengths of nails and of staples. Common practice, no source.
const NAILS_MM: &[f64] = &[16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 50.0, 65.0];
const NAILS_IN: &[f64] = &[0.625, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5];
const STAPLES_MM: &[f64] = &[12.0, 14.0, 16.0, 18.0, 20.0, 25.0, 30.0, 38.0];
const STAPLES_IN: &[f64] = &[0.5, 0.5625, 0.625, 0.75, 1.0, 1.25, 1.5];

/// The lengths of nails that can be had, from the shortest up, in millimetres.
pub(crate) fn nails(context: &Context) -> Vec<f64> {
    usual(context, NAILS_MM, NAILS_IN)
}

/// The lengths of staples that can be had, from the shortest up, in millimetres.
pub(crate) fn staples(context: &Context) -> Vec<f64> {
    usual(context, STAPLES_MM, STAPLES_IN)
}

/// The lengths of wood screws that can be had, from the shortest up, in millimetres.
pub(crate) fn screws(context: &Context) -> Vec<f64> {
    or_usual(context, SCREWS_MM, SCREWS_IN)
}

/// The lengths of pocket screws that can be had, from the shortest up, in millimetres.
pub(crate) fn pocket_screws(context: &Context) -> Vec<f64> {
    or_usual(context, POCKET_MM, POCKET_IN)
}

fn or_usual(context: &Context, in_mm: &[f64], in_inches: &[f64]) -> Vec<f64> {
    let mut lengths = if context.lengths_sold.is_empty() {
        usual(context, in_mm, in_inches)
    } else {
        context.lengths_sold.to_vec()
    };
    lengths.sort_by(f64::total_cmp);
    lengths
}

fn usual(context: &Context, in_mm: &[f64], in_inches: &[f64]) -> Vec<f64> {
    match context.unit() {
        Unit::Millimetre => in_mm.to_vec(),
        Unit::Inch => in_inches.iter().map(|size| size * MM_PER_INCH).collect(),
    }
}

/// What a length may be, in millimetres.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wanted {
    /// No shorter than this: the thread would hold to too little.
    pub(crate) least: f64,
    /// No longer than this: the tip would come out.
    pub(crate) most: f64,
    /// Best no shorter than this,
    pub(crate) from: f64,
    /// and no longer than this.
    pub(crate) until: f64,
    /// Whether the longest of the best is taken, and not the shortest.
    pub(crate) longest: bool,
}

impl Wanted {
    /// Any length at all.
    pub(crate) const ANY: Wanted = Wanted {
        least: 0.0,
        most: f64::INFINITY,
        from: 0.0,
        until: f64::INFINITY,
        longest: false,
    };

    /// The length that is taken of those that can be had: one of the best, or else the one nearest to them that may be.
    pub(crate) fn choose(self, lengths: &[f64]) -> Option<f64> {
        /// Sold lengths are rounded themselves, and so are sums of lengths.
        const NOISE: f64 = 1e-6;
        let within = |low: f64, high: f64| {
            let fits = move |length: &&f64| **length >= low - NOISE && **length <= high + NOISE;
            lengths.iter().filter(fits).copied()
        };
        let mut best = within(self.from.max(self.least), self.until.min(self.most));
        let best = if self.longest {
            best.last()
        } else {
            best.next()
        };
        let off = |length: f64| (self.from - length).max(length - self.until).max(0.0);
        best.or_else(|| within(self.least, self.most).min_by(|a, b| off(*a).total_cmp(&off(*b))))
    }
}

#[cfg(test)]
mod tests {
    use super::Wanted;

    /// Through 18 into a face of 18: from 24 to 35, best at most 33, and as long as may be.
    #[test]
    fn the_nearest_length_that_may_be_is_taken() {
        let wanted = Wanted {
            least: 24.0,
            most: 35.0,
            from: 24.0,
            until: 33.0,
            longest: true,
        };
        assert_eq!(wanted.choose(&[20.0, 25.0, 30.0, 35.0, 40.0]), Some(30.0));
        assert_eq!(wanted.choose(&[20.0, 35.0, 40.0]), Some(35.0));
        assert_eq!(wanted.choose(&[20.0, 40.0]), None);
    }
}
