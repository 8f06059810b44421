//! The linear program over patterns: how often each is cut, parts of boards allowed.

use jigless_model::sheets::Micrometres;

use super::demand::Demand;
use super::knapsack::best_pattern;

/// A length of board, grown by the kerf.
#[derive(Debug, Clone, Copy)]
pub(super) struct Length {
    pub(super) room: Micrometres,
    pub(super) count: Option<u32>,
    pub(super) cost: i64,
}

/// What is cut from one board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pattern {
    pub(super) length: usize,
    pub(super) counts: Vec<u32>,
}

/// A solution of the program.
pub(super) struct Relaxed {
    pub(super) cost: f64,
    /// The patterns that are cut, and how often.
    pub(super) patterns: Vec<(Pattern, f64)>,
    /// Whether no pattern was left out that would have made it cheaper.
    pub(super) exact: bool,
    /// Whether all pieces are in it.
    pub(super) complete: bool,
}

/// Smaller numbers are noise.
const NOISE: f64 = 1e-9;

/// How often the basis is changed at most.
const MOST_PIVOTS: usize = 4000;

/// What stands in the basis.
#[derive(Debug, Clone)]
enum Column {
    /// A piece that is left out, or a board that is not used.
    Slack(usize),
    /// More pieces than are needed.
    Surplus(usize),
    Pattern(Pattern),
}

/// A row for each kind of piece, and one for each length of which there are only so many.
struct Basis<'a> {
    demand: &'a [Demand],
    lengths: &'a [Length],
    limited: Vec<usize>,
    columns: Vec<Column>,
    costs: Vec<f64>,
    values: Vec<f64>,
    /// The inverse of the basis, row by row.
    inverse: Vec<Vec<f64>>,
}

/// Solves the program. `pool` holds patterns that are known, and gets those that are found.
pub(super) fn relaxed(demand: &[Demand], lengths: &[Length], pool: &mut Vec<Pattern>) -> Relaxed {
    let limited: Vec<usize> = (0..lengths.len())
        .filter(|&l| lengths[l].count.is_some())
        .collect();
    let rows = demand.len() + limited.len();
    let dearest = lengths.iter().map(|length| length.cost).max().unwrap_or(1) as f64;
    let missing = 100.0 * dearest;
    let mut costs = vec![missing; demand.len()];
    costs.resize(rows, 0.0);
    let mut values: Vec<f64> = demand.iter().map(|demand| demand.count.into()).collect();
    values.extend(
        limited
            .iter()
            .map(|&l| f64::from(lengths[l].count.unwrap_or(0))),
    );
    let unit = |row: usize| {
        let mut line = vec![0.0; rows];
        line[row] = 1.0;
        line
    };
    let mut basis = Basis {
        demand,
        lengths,
        limited,
        columns: (0..rows).map(Column::Slack).collect(),
        costs,
        values,
        inverse: (0..rows).map(unit).collect(),
    };
    let exact = basis.solve(pool);
    let mut patterns = Vec::new();
    let (mut cost, mut complete) = (0.0, true);
    for ((column, value), each) in basis.columns.iter().zip(&basis.values).zip(&basis.costs) {
        cost += value * each;
        match column {
            Column::Pattern(pattern) if *value > NOISE => patterns.push((pattern.clone(), *value)),
            Column::Slack(row) if *row < demand.len() && *value > 1e-6 => complete = false,
            _ => {}
        }
    }
    Relaxed {
        cost,
        patterns,
        exact,
        complete,
    }
}

impl Basis<'_> {
    fn solve(&mut self, pool: &mut Vec<Pattern>) -> bool {
        let mut exact = true;
        for _ in 0..MOST_PIVOTS {
            let prices = self.prices();
            let entering = self
                .cheap_surplus(&prices)
                .or_else(|| self.known_pattern(&prices, pool))
                .or_else(|| self.new_pattern(&prices, pool, &mut exact));
            let Some((column, cost)) = entering else {
                return exact;
            };
            if !self.enter(column, cost) {
                return false;
            }
        }
        false
    }

    /// What each row is worth.
    fn prices(&self) -> Vec<f64> {
        let rows = self.costs.len();
        let mut prices = vec![0.0; rows];
        for (cost, line) in self.costs.iter().zip(&self.inverse) {
            if *cost != 0.0 {
                for (price, entry) in prices.iter_mut().zip(line) {
                    *price += cost * entry;
                }
            }
        }
        prices
    }

    fn cheap_surplus(&self, prices: &[f64]) -> Option<(Column, f64)> {
        let kinds = self.demand.len();
        if let Some(row) = (0..kinds).find(|&row| prices[row] < -NOISE) {
            return Some((Column::Surplus(row), 0.0));
        }
        let row = (kinds..prices.len()).find(|&row| prices[row] > NOISE)?;
        Some((Column::Slack(row), 0.0))
    }

    /// What a board of a length may cost before a pattern of it gains.
    fn cost_of(&self, length: usize, prices: &[f64]) -> f64 {
        let row = self.limited.iter().position(|&l| l == length);
        let own = row.map_or(0.0, |row| prices[self.demand.len() + row]);
        self.lengths[length].cost as f64 - own
    }

    fn known_pattern(&self, prices: &[f64], pool: &[Pattern]) -> Option<(Column, f64)> {
        let gain = |pattern: &Pattern| {
            let worth = pattern.counts.iter().zip(prices);
            let worth: f64 = worth.map(|(count, price)| f64::from(*count) * price).sum();
            worth - self.cost_of(pattern.length, prices)
        };
        let (best, gain) = pool
            .iter()
            .map(|pattern| (pattern, gain(pattern)))
            .max_by(|a, b| a.1.total_cmp(&b.1))?;
        (gain > 1e-7).then(|| {
            let cost = self.lengths[best.length].cost as f64;
            (Column::Pattern(best.clone()), cost)
        })
    }

    fn new_pattern(
        &self,
        prices: &[f64],
        pool: &mut Vec<Pattern>,
        exact: &mut bool,
    ) -> Option<(Column, f64)> {
        *exact = true;
        let mut best: Option<(f64, Pattern)> = None;
        for (number, length) in self.lengths.iter().enumerate() {
            let (counts, worth, sure) =
                best_pattern(self.demand, &prices[..self.demand.len()], length.room);
            *exact &= sure;
            let gain = worth - self.cost_of(number, prices);
            if gain > 1e-7 && best.as_ref().is_none_or(|(other, _)| gain > *other) {
                let pattern = Pattern {
                    length: number,
                    counts,
                };
                best = Some((gain, pattern));
            }
        }
        let (_, pattern) = best?;
        pool.push(pattern.clone());
        let cost = self.lengths[pattern.length].cost as f64;
        Some((Column::Pattern(pattern), cost))
    }

    fn entries(&self, column: &Column) -> Vec<(usize, f64)> {
        let kinds = self.demand.len();
        match column {
            Column::Slack(row) => vec![(*row, 1.0)],
            Column::Surplus(row) => vec![(*row, -1.0)],
            Column::Pattern(pattern) => {
                let counts = pattern.counts.iter().enumerate();
                let mut entries: Vec<(usize, f64)> = counts
                    .filter(|(_, count)| **count > 0)
                    .map(|(row, count)| (row, f64::from(*count)))
                    .collect();
                if let Some(row) = self.limited.iter().position(|&l| l == pattern.length) {
                    entries.push((kinds + row, 1.0));
                }
                entries
            }
        }
    }

    /// Brings a column into the basis. False where nothing limits it, which rounding alone can bring about.
    fn enter(&mut self, column: Column, cost: f64) -> bool {
        let entries = self.entries(&column);
        let rows = self.costs.len();
        let direction: Vec<f64> = self
            .inverse
            .iter()
            .map(|line| entries.iter().map(|&(row, entry)| line[row] * entry).sum())
            .collect();
        let mut leaving: Option<(usize, f64)> = None;
        for row in 0..rows {
            if direction[row] > 1e-8 {
                let ratio = self.values[row].max(0.0) / direction[row];
                let better = match leaving {
                    None => true,
                    Some((other, least)) => {
                        ratio < least - NOISE
                            || (ratio < least + NOISE && direction[row] > direction[other])
                    }
                };
                if better {
                    leaving = Some((row, ratio));
                }
            }
        }
        let Some((row, ratio)) = leaving else {
            return false;
        };
        let pivot = direction[row];
        for entry in &mut self.inverse[row] {
            *entry /= pivot;
        }
        let line = self.inverse[row].clone();
        for (other, &factor) in direction.iter().enumerate() {
            if other != row && factor != 0.0 {
                for (entry, of_row) in self.inverse[other].iter_mut().zip(&line) {
                    *entry -= factor * of_row;
                }
                self.values[other] -= factor * ratio;
            }
        }
        self.values[row] = ratio;
        self.columns[row] = column;
        self.costs[row] = cost;
        true
    }
}
