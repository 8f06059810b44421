//! One sheet fewer as long as that succeeds, then the last one on as short a strip as is found.

use jigless_model::geom::{Bounds, Point};

use super::budget::Budget;
use super::pairs::Pairs;
use super::refill::Refill;
use super::search::{Patience, Search, Spot};

/// What part of the work may go into one sheet fewer.
const SHEETS_PART: f64 = 0.75;

/// What part of what is left of that goes into filling sheets again.
const REFILL_PART: f64 = 0.6;

/// By how much areas are rounded, as a share.
const ROUNDED: f64 = 1e-6;

/// What part of the rest looks for shorter strips in large steps, before it goes on in small ones.
const LARGE_PART: f64 = 0.75;

/// By what share a strip is shortened: the largest and the least large step, and the small ones from first to last.
const LARGE_STEPS: (f64, f64) = (0.02, 0.001);
const SMALL_STEPS: (f64, f64) = (0.001, 0.000_02);

/// How long overlaps are fought before other things are tried.
const PATIENCE: Patience = Patience {
    rounds: 60,
    strikes: 2,
};
const SHORT_PATIENCE: Patience = Patience {
    rounds: 40,
    strikes: 1,
};

/// How many times as often one sheet fewer is tried as a shorter strip.
const SHEET_TRIES: u32 = 8;

/// How often two large pieces change places before a smaller step is tried.
const SWAPS: u32 = 3;

pub(super) struct Strip<'a> {
    pairs: &'a Pairs,
    search: Search<'a>,
    /// Places without any overlap.
    best: Vec<Spot>,
    budget: Budget,
}

impl<'a> Strip<'a> {
    pub(super) fn new(pairs: &'a Pairs, search: Search<'a>, budget: Budget) -> Self {
        Self {
            pairs,
            best: search.spots.clone(),
            search,
            budget,
        }
    }

    pub(super) fn spots(&self) -> &[Spot] {
        &self.best
    }

    fn area(&self, piece: usize) -> f64 {
        self.pairs.kinds[self.search.kinds[piece]].area
    }

    /// Area of the pieces on each sheet.
    fn used(&self, spots: &[Spot]) -> Vec<f64> {
        let mut used = vec![0.0; self.search.rooms.len()];
        for (piece, spot) in spots.iter().enumerate() {
            used[spot.sheet] += self.area(piece);
        }
        used
    }

    /// Does with fewer sheets as long as it can; gives the numbers of those that are left, the emptiest one last. Sheets
    /// that are bought go first.
    pub(super) fn fewer_sheets(&mut self, mut bought: Vec<bool>) -> Vec<usize> {
        let mut left: Vec<usize> = (0..bought.len()).collect();
        let most = (self.budget.work as f64 * SHEETS_PART) as u64;
        let total: f64 = (0..self.best.len()).map(|piece| self.area(piece)).sum();
        loop {
            let used = self.used(&self.best);
            let emptiest = |a: &usize, b: &usize| {
                bought[*b]
                    .cmp(&bought[*a])
                    .then(used[*a].total_cmp(&used[*b]))
            };
            let Some(victim) = (0..left.len()).min_by(emptiest) else {
                return left;
            };
            let rooms: f64 = self.search.rooms.iter().map(area_of).sum();
            let enough = rooms - area_of(&self.search.rooms[victim]);
            let spots = if left.len() > 1 && total <= enough * (1.0 + ROUNDED) {
                self.without(victim, most)
            } else {
                None
            };
            // The last sheet is the one that is shortened.
            let end = left.len() - 1;
            let Some(spots) = spots else {
                left.swap(victim, end);
                self.search.rooms.swap(victim, end);
                for spot in &mut self.best {
                    spot.sheet = match spot.sheet {
                        sheet if sheet == victim => end,
                        sheet if sheet == end => victim,
                        sheet => sheet,
                    };
                }
                return left;
            };
            left.remove(victim);
            bought.remove(victim);
            self.search.rooms.remove(victim);
            self.best = spots;
        }
    }

    /// Places for all pieces on all sheets but one.
    fn without(&mut self, victim: usize, most: u64) -> Option<Vec<Spot>> {
        let rooms = self.search.rooms.clone();
        let mut spots = self.best.clone();
        self.search.rooms.remove(victim);
        for (piece, spot) in spots.iter_mut().enumerate() {
            if spot.sheet == victim {
                spot.sheet = piece % self.search.rooms.len();
            } else if spot.sheet > victim {
                spot.sheet -= 1;
            }
        }
        if let Some(found) = self.refilled(victim, &spots, most) {
            self.search.rooms = rooms;
            return Some(found);
        }
        self.search.take(&spots);
        let mut done = false;
        for _ in 0..=self.budget.tries * SHEET_TRIES {
            done = self.search.separate(PATIENCE, most);
            if done || self.search.work >= most {
                break;
            }
            self.swap_two();
        }
        let found = done.then(|| self.search.spots.clone());
        self.search.rooms = rooms;
        found
    }

    /// The same by emptying and filling sheets: what lay on the one that is given up is left out at first.
    fn refilled(&mut self, victim: usize, spots: &[Spot], most: u64) -> Option<Vec<Spot>> {
        let kept = self.best.iter().map(|spot| spot.sheet != victim);
        let spots = kept.zip(spots).map(|(kept, spot)| kept.then_some(*spot));
        let mut refill = Refill {
            pairs: self.pairs,
            kinds: self.search.kinds,
            rooms: &self.search.rooms,
            spots: spots.collect(),
            rng: self.search.rng.fork(),
            work: 0,
        };
        let left = most.saturating_sub(self.search.work);
        let found = refill.run((left as f64 * REFILL_PART) as u64);
        self.search.work += refill.work;
        found
    }

    /// Two large pieces of different kinds change places.
    fn swap_two(&mut self) {
        let count = self.best.len();
        let mut order: Vec<usize> = (0..count).collect();
        order.sort_by(|&a, &b| self.area(b).total_cmp(&self.area(a)));
        order.truncate((count / 2).max(2));
        let a = order[self.search.rng.usize(0..order.len())];
        let others: Vec<usize> = order
            .into_iter()
            .filter(|&b| self.search.kinds[b] != self.search.kinds[a])
            .collect();
        if others.is_empty() {
            return;
        }
        let b = others[self.search.rng.usize(0..others.len())];
        let mut spots = self.search.spots.clone();
        let centre = |piece: usize, spot: Spot| {
            let bounds =
                self.pairs.kinds[self.search.kinds[piece]].bounds[usize::from(spot.quarters)];
            bounds.centre() + spot.at
        };
        let (at_a, at_b) = (centre(a, spots[a]), centre(b, spots[b]));
        let sheets = (spots[a].sheet, spots[b].sheet);
        let (way, back) = (at_b - at_a, at_a - at_b);
        spots[a].at = spots[a].at + way;
        spots[b].at = spots[b].at + back;
        (spots[a].sheet, spots[b].sheet) = (sheets.1, sheets.0);
        self.search.take(&spots);
    }

    /// The last sheet on as short a strip as is found: of its height or of its width, where more is left.
    pub(super) fn shorten(&mut self) {
        let last = self.search.rooms.len() - 1;
        let room = self.search.rooms[last];
        let reach = self.reach(last);
        let above = (room.max.y - reach.y) * room.width();
        let beside = (room.max.x - reach.x) * room.height();
        let upward = above >= beside;
        let end = |reach: Point| if upward { reach.y } else { reach.x };
        let begin = end(room.min);
        let total: f64 = (0..self.best.len())
            .filter(|&piece| self.best[piece].sheet == last)
            .map(|piece| self.area(piece))
            .sum();
        let least = if last == 0 {
            total / if upward { room.width() } else { room.height() }
        } else {
            0.0
        };
        let mut extent = end(reach) - begin;
        let (start, most) = (self.search.work, self.budget.work);
        let large = start + (most.saturating_sub(start) as f64 * LARGE_PART) as u64;
        let mut step = LARGE_STEPS.0;
        let mut failed = 0;
        while self.search.work < large && failed < self.budget.tries && extent > least {
            if self.fits(last, extent * (1.0 - step), upward, PATIENCE, SWAPS, large) {
                extent = end(self.reach(last)) - begin;
                failed = 0;
            } else {
                step = (step / 2.0).max(LARGE_STEPS.1);
                failed += 1;
            }
        }
        let small = self.search.work;
        let mut failed = 0;
        while self.search.work < most && failed < self.budget.tries && extent > least {
            let done = (self.search.work - small) as f64 / (most - small) as f64;
            let step = SMALL_STEPS.0 + (SMALL_STEPS.1 - SMALL_STEPS.0) * done.sqrt();
            if self.fits(last, extent * (1.0 - step), upward, SHORT_PATIENCE, 0, most) {
                extent = end(self.reach(last)) - begin;
                failed = 0;
            } else {
                failed += 1;
            }
        }
        self.search.rooms[last] = room;
    }

    /// Whether all pieces are found places where the last sheet has but some extent.
    fn fits(
        &mut self,
        last: usize,
        extent: f64,
        upward: bool,
        patience: Patience,
        swaps: u32,
        most: u64,
    ) -> bool {
        let room = &mut self.search.rooms[last];
        if upward {
            room.max.y = room.min.y + extent;
        } else {
            room.max.x = room.min.x + extent;
        }
        self.search.take(&self.best);
        for swap in 0..=swaps {
            if self.search.separate(patience, most) {
                self.best.clone_from(&self.search.spots);
                return true;
            }
            if swap < swaps && self.search.work < most {
                self.swap_two();
            }
        }
        false
    }

    /// How far the pieces on a sheet reach.
    fn reach(&self, sheet: usize) -> Point {
        let ends = self
            .best
            .iter()
            .enumerate()
            .filter(|(_, spot)| spot.sheet == sheet)
            .map(|(piece, spot)| {
                self.pairs.kinds[self.search.kinds[piece]].bounds[usize::from(spot.quarters)].max
                    + spot.at
            });
        ends.fold(self.search.rooms[sheet].min, |a, b| {
            Point::new(a.x.max(b.x), a.y.max(b.y))
        })
    }
}

fn area_of(room: &Bounds) -> f64 {
    room.width() * room.height()
}
