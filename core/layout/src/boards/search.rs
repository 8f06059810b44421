//! Whole boards out of the linear program: patterns that it cuts at least once are taken, then the one that it cuts most,
//! and it is solved anew for what is left. Where that ends above the bound, the second and third choices are tried at a
//! few places (limited discrepancy search).

use super::demand::Demand;
use super::program::{Length, Pattern, relaxed};

/// How many programs are solved at most.
const MOST_PROGRAMS: u32 = 400;

/// At how many places another than the first choice is taken.
const MOST_DISCREPANCIES: u32 = 3;

/// How many patterns are looked at there.
const CHOICES: usize = 4;

/// Boards for all pieces, as far as the boards last.
pub(super) struct Found {
    pub(super) patterns: Vec<Pattern>,
    /// No layout needs fewer boards.
    pub(super) bound: usize,
    /// Whether nothing is cheaper.
    pub(super) proved: bool,
}

struct Dive<'a> {
    lengths: &'a [Length],
    pool: Vec<Pattern>,
    best: Option<(i64, Vec<Pattern>)>,
    least: i64,
    programs: u32,
}

pub(super) fn search(demand: &[Demand], lengths: &[Length]) -> Found {
    let mut pool = Vec::new();
    let whole = relaxed(demand, lengths, &mut pool);
    let longest = lengths
        .iter()
        .map(|length| length.room)
        .max()
        .unwrap_or(1)
        .max(1);
    let total: i64 = demand.iter().map(|d| d.length * i64::from(d.count)).sum();
    let mut bound = (total as u64).div_ceil(longest as u64) as usize;
    let least = if whole.exact {
        rounded_up(whole.cost)
    } else {
        0
    };
    let alike = lengths.iter().all(|length| length.cost == 1);
    if alike && whole.complete {
        bound = bound.max(usize::try_from(least).unwrap_or(0));
    }
    let first = first_fit(demand, lengths);
    let mut dive = Dive {
        lengths,
        pool,
        best: first.map(|patterns| (cost(&patterns, lengths), patterns)),
        least,
        programs: 0,
    };
    for discrepancies in 0..=MOST_DISCREPANCIES {
        if dive.is_done() {
            break;
        }
        let mut chosen = Vec::new();
        dive.descend(
            &mut demand.to_vec(),
            &mut lengths.to_vec(),
            &mut chosen,
            0,
            discrepancies,
        );
    }
    match dive.best {
        Some((cost, patterns)) => Found {
            proved: whole.exact && cost <= least,
            bound,
            patterns,
        },
        // The boards do not suffice: what the longest pieces leave.
        None => Found {
            patterns: as_far_as_they_last(demand, lengths),
            bound,
            proved: false,
        },
    }
}

/// Costs are whole numbers; what is above one by no more than the noise of the arithmetic is that one.
fn rounded_up(cost: f64) -> i64 {
    (cost - 1e-6).ceil() as i64
}

fn cost(patterns: &[Pattern], lengths: &[Length]) -> i64 {
    patterns
        .iter()
        .map(|pattern| lengths[pattern.length].cost)
        .sum()
}

impl Dive<'_> {
    fn is_done(&self) -> bool {
        self.programs >= MOST_PROGRAMS
            || self
                .best
                .as_ref()
                .is_some_and(|(cost, _)| *cost <= self.least)
    }

    fn descend(
        &mut self,
        demand: &mut Vec<Demand>,
        lengths: &mut Vec<Length>,
        chosen: &mut Vec<Pattern>,
        spent: i64,
        discrepancies: u32,
    ) {
        if demand.iter().all(|demand| demand.count == 0) {
            if self.best.as_ref().is_none_or(|(cost, _)| spent < *cost) {
                self.best = Some((spent, chosen.clone()));
            }
            return;
        }
        if self.is_done() {
            return;
        }
        self.programs += 1;
        let fits = |pattern: &Pattern| {
            let enough = lengths[pattern.length].count != Some(0);
            let counts = pattern.counts.iter().zip(&*demand);
            enough
                && counts
                    .into_iter()
                    .all(|(count, demand)| *count <= demand.count)
        };
        let mut pool: Vec<Pattern> = self.pool.iter().filter(|p| fits(p)).cloned().collect();
        let known = pool.len();
        let mut solution = relaxed(demand, lengths, &mut pool);
        self.pool.extend(pool.drain(known..));
        let above = |best: &(i64, Vec<Pattern>)| spent + rounded_up(solution.cost) >= best.0;
        if !solution.complete || self.best.as_ref().is_some_and(above) {
            return;
        }
        solution.patterns.sort_by(|a, b| {
            let whole = |value: f64| (value + 1e-6).floor() >= 1.0;
            let share = |value: f64| value - (value + 1e-6).floor();
            whole(b.1)
                .cmp(&whole(a.1))
                .then(share(b.1).total_cmp(&share(a.1)))
                .then_with(|| b.0.counts.cmp(&a.0.counts))
        });
        let before = (demand.clone(), lengths.clone(), chosen.len());
        let mut spent_here = spent;
        let mut any_whole = false;
        for (pattern, value) in &solution.patterns {
            for _ in 0..(value + 1e-6).floor() as u32 {
                if take(pattern, demand, lengths, chosen) {
                    spent_here += self.lengths[pattern.length].cost;
                    any_whole = true;
                }
            }
        }
        if any_whole {
            self.descend(demand, lengths, chosen, spent_here, discrepancies);
        } else {
            let choices = if discrepancies > 0 { CHOICES } else { 1 };
            for (index, (pattern, _)) in solution.patterns.iter().take(choices).enumerate() {
                let left = discrepancies.saturating_sub(u32::from(index > 0));
                if take(pattern, demand, lengths, chosen) {
                    let spent = spent + self.lengths[pattern.length].cost;
                    self.descend(demand, lengths, chosen, spent, left);
                }
                demand.clone_from(&before.0);
                lengths.clone_from(&before.1);
                chosen.truncate(before.2);
            }
        }
        demand.clone_from(&before.0);
        lengths.clone_from(&before.1);
        chosen.truncate(before.2);
    }
}

/// Cuts a board by a pattern, without the pieces that are there already. False where that leaves none, or no board.
fn take(
    pattern: &Pattern,
    demand: &mut [Demand],
    lengths: &mut [Length],
    chosen: &mut Vec<Pattern>,
) -> bool {
    let counts: Vec<u32> = pattern
        .counts
        .iter()
        .zip(&*demand)
        .map(|(count, demand)| (*count).min(demand.count))
        .collect();
    let length = &mut lengths[pattern.length];
    if length.count == Some(0) || counts.iter().all(|count| *count == 0) {
        return false;
    }
    length.count = length.count.map(|count| count - 1);
    for (demand, count) in demand.iter_mut().zip(&counts) {
        demand.count -= count;
    }
    chosen.push(Pattern {
        length: pattern.length,
        counts,
    });
    true
}

/// Each piece, the longest first, into the first board that has room; `None` where the boards do not suffice.
fn first_fit(demand: &[Demand], lengths: &[Length]) -> Option<Vec<Pattern>> {
    let patterns = as_far_as_they_last(demand, lengths);
    let placed = |kind: usize| patterns.iter().map(|p| p.counts[kind]).sum::<u32>();
    let all = (0..demand.len()).all(|kind| placed(kind) == demand[kind].count);
    all.then_some(patterns)
}

fn as_far_as_they_last(demand: &[Demand], lengths: &[Length]) -> Vec<Pattern> {
    let mut order: Vec<usize> = (0..demand.len()).collect();
    order.sort_by_key(|&kind| -demand[kind].length);
    let mut open: Vec<(i64, Pattern)> = Vec::new();
    let mut used = vec![0; lengths.len()];
    for kind in order {
        for _ in 0..demand[kind].count {
            let length = demand[kind].length;
            if let Some((room, pattern)) = open.iter_mut().find(|(room, _)| *room >= length) {
                *room -= length;
                pattern.counts[kind] += 1;
                continue;
            }
            // The cheapest for its length that is left.
            let fresh = (0..lengths.len())
                .filter(|&l| {
                    lengths[l].room >= length && lengths[l].count.is_none_or(|c| used[l] < c)
                })
                .min_by(|&a, &b| {
                    let dear = |l: usize| lengths[l].cost as f64 / lengths[l].room as f64;
                    dear(a).total_cmp(&dear(b))
                });
            if let Some(number) = fresh {
                used[number] += 1;
                let mut counts = vec![0; demand.len()];
                counts[kind] = 1;
                let pattern = Pattern {
                    length: number,
                    counts,
                };
                open.push((lengths[number].room - length, pattern));
            }
        }
    }
    open.into_iter().map(|(_, pattern)| pattern).collect()
}
