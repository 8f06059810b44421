//! Pieces that overlap are taken apart by guided local search.
//!
//! After Umetani, Yagiura, Imahori, Imamichi, Nonobe and Ibaraki, "Solving the irregular strip packing problem via guided
//! local search for overlap minimization" (ITOR 2009, doi 10.1111/j.1475-3995.2009.00707.x), and the open method of
//! Gardeyn, Vanden Berghe and Wauters (arXiv 2509.13329): one piece after the other goes where the weighted sum of what
//! it overlaps is least, looked for among places drawn by lot and places at which it touches another piece, the best of
//! which are improved by small moves. What still overlaps weighs more in the next round.

use fastrand::Rng;
use jigless_model::geom::{Bounds, Point};

use super::pairs::Pairs;

/// Where a piece lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    pub(super) sheet: usize,
    pub(super) quarters: u8,
    pub(super) at: Point,
}

/// How many places are looked at: around where the piece is, anywhere, and where it touches another one.
const NEAR: usize = 12;
const ANYWHERE: usize = 24;
const TOUCHING: usize = 24;

/// How many sheets more there are where it is as many places again.
const MORE: usize = 6;

/// How many of them are improved.
const IMPROVED: usize = 3;

/// What a pair weighs more in the next round: the one that overlaps most, and the least that any does.
const MOST_MORE: f64 = 2.0;
const LEAST_MORE: f64 = 1.2;

/// What a pair that does not overlap weighs in the next round.
const LESS: f64 = 0.95;

/// How long overlaps are fought: after so many rounds without less of them, and so many times again from the best.
#[derive(Debug, Clone, Copy)]
pub(super) struct Patience {
    pub(super) rounds: usize,
    pub(super) strikes: usize,
}

pub(super) struct Search<'a> {
    pairs: &'a Pairs,
    /// The kind of each piece.
    pub(super) kinds: &'a [usize],
    /// Where pieces may lie on each sheet.
    pub(super) rooms: Vec<Bounds>,
    pub(super) spots: Vec<Spot>,
    /// The pieces on each sheet.
    members: Vec<Vec<usize>>,
    weights: Vec<f64>,
    depths: Vec<f64>,
    /// Whether every piece is in its room; one that no sheet holds in any turn is not.
    all_fit: bool,
    pub(super) rng: Rng,
    /// How much has been done, in sides that were looked at.
    pub(super) work: u64,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        pairs: &'a Pairs,
        kinds: &'a [usize],
        rooms: Vec<Bounds>,
        spots: &[Spot],
        seed: u64,
    ) -> Self {
        let count = kinds.len();
        let mut search = Self {
            pairs,
            kinds,
            rooms,
            spots: Vec::new(),
            members: Vec::new(),
            weights: vec![1.0; count * count],
            depths: vec![0.0; count * count],
            all_fit: true,
            rng: Rng::with_seed(seed),
            work: 0,
        };
        search.take(spots);
        search
    }

    /// Goes on from other places. Pieces that reach over the edge of their room are moved into it, or go where they fit.
    pub(super) fn take(&mut self, spots: &[Spot]) {
        self.spots = spots.to_vec();
        self.members = vec![Vec::new(); self.rooms.len()];
        self.all_fit = true;
        for piece in 0..self.spots.len() {
            match self.nearest_fit(piece) {
                Some(spot) => self.spots[piece] = spot,
                None => self.all_fit = false,
            }
            self.members[self.spots[piece].sheet].push(piece);
        }
        self.depths.fill(0.0);
        for piece in 0..self.spots.len() {
            self.look_at(piece);
        }
    }

    pub(super) fn forget_weights(&mut self) {
        self.weights.fill(1.0);
    }

    /// All overlaps together.
    pub(super) fn overlap(&self) -> f64 {
        self.depths.iter().sum::<f64>() / 2.0
    }

    fn range(&self, piece: usize, sheet: usize, quarters: u8) -> Option<Bounds> {
        range_of(self.pairs, (self.kinds[piece], quarters), self.rooms[sheet])
    }

    /// The piece where it is, moved into its room; else turned, else on the first sheet that holds it.
    fn nearest_fit(&self, piece: usize) -> Option<Spot> {
        let spot = self.spots[piece];
        let sheets = std::iter::once(spot.sheet).chain(0..self.rooms.len());
        let turns = &self.pairs.kinds[self.kinds[piece]].turns;
        let mut places = sheets.flat_map(|sheet| {
            let turns = std::iter::once(spot.quarters).chain(turns.iter().copied());
            turns.map(move |quarters| (sheet, quarters))
        });
        places.find_map(|(sheet, quarters)| {
            let range = self.range(piece, sheet, quarters)?;
            let at = clamped(spot.at, range);
            Some(Spot {
                sheet,
                quarters,
                at,
            })
        })
    }

    fn depth(&self, a: usize, b: usize) -> f64 {
        let (from, to) = (self.spots[a], self.spots[b]);
        if from.sheet != to.sheet {
            return 0.0;
        }
        let (no_fit, view, distance) = self
            .pairs
            .of((self.kinds[a], from.quarters), (self.kinds[b], to.quarters));
        no_fit.map_or(0.0, |no_fit| {
            no_fit.depth(view.seen(to.at - from.at), distance)
        })
    }

    /// Works out anew what a piece overlaps.
    fn look_at(&mut self, piece: usize) {
        let count = self.spots.len();
        for other in 0..count {
            if other != piece {
                let depth = self.depth(piece, other);
                self.depths[piece * count + other] = depth;
                self.depths[other * count + piece] = depth;
            }
        }
        self.work += count as u64;
    }

    /// The weighted sum of what a piece would overlap, or something that is not less than a limit.
    fn cost(&mut self, piece: usize, spot: Spot, limit: f64) -> f64 {
        let count = self.spots.len();
        let own = (self.kinds[piece], spot.quarters);
        let bounds = self.pairs.kinds[own.0].bounds[usize::from(spot.quarters)].moved(spot.at);
        let mut sum = 0.0;
        let members = &self.members[spot.sheet];
        self.work += members.len() as u64 / 2;
        for &other in members {
            if other == piece {
                continue;
            }
            let to = self.spots[other];
            let theirs = &self.pairs.kinds[self.kinds[other]].bounds[usize::from(to.quarters)];
            let (no_fit, view, distance) = self.pairs.of((self.kinds[other], to.quarters), own);
            let apart = (theirs.min.x + to.at.x - bounds.max.x)
                .max(bounds.min.x - theirs.max.x - to.at.x)
                .max(theirs.min.y + to.at.y - bounds.max.y)
                .max(bounds.min.y - theirs.max.y - to.at.y);
            if apart >= distance {
                continue;
            }
            let Some(no_fit) = no_fit else { continue };
            self.work += no_fit.len() as u64;
            let depth = no_fit.depth(view.seen(spot.at - to.at), distance);
            if depth > 0.0 {
                sum += self.weights[piece * count + other] * depth;
                if sum >= limit {
                    return sum;
                }
            }
        }
        sum
    }

    /// A place drawn by lot, a third of the time along an edge of the room or in a corner of it.
    fn somewhere(&mut self, range: Bounds) -> Point {
        let mut share = || {
            let share = self.rng.f64() * 1.5 - 0.25;
            share.clamp(0.0, 1.0)
        };
        let (x, y) = (share(), share());
        Point::new(
            range.min.x + x * (range.max.x - range.min.x),
            range.min.y + y * (range.max.y - range.min.y),
        )
    }

    /// A sheet and a turn for a piece, drawn by lot.
    fn drawn(&mut self, piece: usize) -> Option<(usize, u8, Bounds)> {
        let sheet = self.rng.usize(0..self.rooms.len());
        let turns = &self.pairs.kinds[self.kinds[piece]].turns;
        let quarters = turns[self.rng.usize(0..turns.len())];
        Some((sheet, quarters, self.range(piece, sheet, quarters)?))
    }

    /// The best place that is found for a piece.
    fn best_spot(&mut self, piece: usize) -> Spot {
        let now = self.spots[piece];
        let own = self.pairs.kinds[self.kinds[piece]].bounds[usize::from(now.quarters)];
        let size = own.width().min(own.height());
        let mut best = Best {
            spots: Vec::with_capacity(IMPROVED + 1),
            size,
        };
        let cost = self.cost(piece, now, f64::INFINITY);
        best.add(cost, now);
        // More where there are more sheets to look at.
        let (sheets, of) = (self.rooms.len() - 1 + MORE, MORE);
        let (anywhere, touching) = (ANYWHERE * sheets / of, TOUCHING * sheets / of);
        for number in 0..NEAR + anywhere + touching {
            let spot = if number < NEAR {
                let Some(range) = self.range(piece, now.sheet, now.quarters) else {
                    continue;
                };
                let off = Point::new(self.rng.f64() - 0.5, self.rng.f64() - 0.5) * size;
                Spot {
                    at: clamped(now.at + off, range),
                    ..now
                }
            } else {
                let Some((sheet, quarters, range)) = self.drawn(piece) else {
                    continue;
                };
                let at = if number < NEAR + anywhere || self.members[sheet].is_empty() {
                    self.somewhere(range)
                } else {
                    let other = self.members[sheet][self.rng.usize(0..self.members[sheet].len())];
                    if other == piece {
                        continue;
                    }
                    clamped(self.touching(piece, quarters, other), range)
                };
                Spot {
                    sheet,
                    quarters,
                    at,
                }
            };
            let cost = self.cost(piece, spot, best.limit());
            best.add(cost, spot);
        }
        let mut found = (cost, now);
        for (cost, spot) in best.spots {
            let better = self.improved(piece, (cost, spot), size / 4.0, size / 200.0);
            if better.0 < found.0 {
                found = better;
            }
        }
        let found = self.improved(piece, found, size / 200.0, size / 5000.0);
        self.pushed_out(piece, found).1
    }

    /// A place at which a corner of a piece touches a side of another one, or the other way round.
    fn touching(&mut self, piece: usize, quarters: u8, other: usize) -> Point {
        let to = self.spots[other];
        let (no_fit, view, _) = self.pairs.of(
            (self.kinds[other], to.quarters),
            (self.kinds[piece], quarters),
        );
        let Some(no_fit) = no_fit else { return to.at };
        let corner = no_fit.corner(self.rng.usize(0..no_fit.len()));
        to.at + view.on_sheet(corner)
    }

    /// Small moves along four lines, as long as they gain anything.
    fn improved(&mut self, piece: usize, from: (f64, Spot), first: f64, least: f64) -> (f64, Spot) {
        let (mut cost, mut spot) = from;
        let Some(range) = self.range(piece, spot.sheet, spot.quarters) else {
            return from;
        };
        let mut step = first;
        while step > least && cost > 0.0 {
            let along = match self.rng.u8(0..4) {
                0 => Point::new(step, 0.0),
                1 => Point::new(0.0, step),
                2 => Point::new(step, step) * std::f64::consts::FRAC_1_SQRT_2,
                _ => Point::new(step, -step) * std::f64::consts::FRAC_1_SQRT_2,
            };
            let mut gained = false;
            for along in [along, -along] {
                let at = clamped(spot.at + along, range);
                let other = self.cost(piece, Spot { at, ..spot }, cost);
                if other < cost {
                    (cost, spot.at, gained) = (other, at, true);
                }
            }
            step *= if gained { 1.1 } else { 0.5 };
        }
        (cost, spot)
    }

    /// Moves a piece out of what it overlaps most, some times over, where that gains anything.
    fn pushed_out(&mut self, piece: usize, from: (f64, Spot)) -> (f64, Spot) {
        let (mut best, mut spot) = (from, from.1);
        let Some(range) = self.range(piece, spot.sheet, spot.quarters) else {
            return from;
        };
        let count = self.spots.len();
        for _ in 0..PUSHES {
            if best.0 <= 0.0 {
                break;
            }
            let own = (self.kinds[piece], spot.quarters);
            let mut most = (0.0, Point::default());
            for &other in &self.members[spot.sheet] {
                let to = self.spots[other];
                let (no_fit, view, distance) = self.pairs.of((self.kinds[other], to.quarters), own);
                let Some(no_fit) = no_fit.filter(|_| other != piece) else {
                    continue;
                };
                let at = view.seen(spot.at - to.at);
                let depth = no_fit.depth(at, distance) * self.weights[piece * count + other];
                if depth > most.0 {
                    most = (depth, view.on_sheet(no_fit.way_out(at, distance + TINY)));
                }
            }
            spot.at = clamped(spot.at + most.1, range);
            let cost = self.cost(piece, spot, f64::INFINITY);
            if cost < best.0 {
                best = (cost, spot);
            }
        }
        best
    }

    /// Moves a piece.
    pub(super) fn put(&mut self, piece: usize, spot: Spot) {
        let before = self.spots[piece].sheet;
        if before != spot.sheet {
            self.members[before].retain(|&other| other != piece);
            self.members[spot.sheet].push(piece);
        }
        self.spots[piece] = spot;
        self.look_at(piece);
    }

    /// One round: each piece that overlaps another one goes where it overlaps least.
    fn round(&mut self) {
        let count = self.spots.len();
        let mut order: Vec<usize> = (0..count).collect();
        self.rng.shuffle(&mut order);
        for piece in order {
            let row = &self.depths[piece * count..(piece + 1) * count];
            if row.iter().any(|depth| *depth > 0.0) {
                let spot = self.best_spot(piece);
                if spot != self.spots[piece] {
                    self.put(piece, spot);
                }
            }
        }
        let most = self.depths.iter().copied().fold(0.0, f64::max);
        for (weight, depth) in self.weights.iter_mut().zip(&self.depths) {
            *weight = if *depth > 0.0 {
                *weight * (LEAST_MORE + (MOST_MORE - LEAST_MORE) * depth / most)
            } else {
                (*weight * LESS).max(1.0)
            };
        }
        self.work += (count * count / 4) as u64;
    }

    /// Takes rounds until nothing overlaps, patience or work is at its end; whether nothing overlaps.
    pub(super) fn separate(&mut self, patience: Patience, most: u64) -> bool {
        if !self.all_fit {
            return false;
        }
        self.forget_weights();
        let mut least = self.overlap();
        let mut best = self.spots.clone();
        let mut strikes = 0;
        while least > 0.0 && strikes < patience.strikes && self.work < most {
            let begin = least;
            let mut idle = 0;
            while idle < patience.rounds && self.work < most {
                self.round();
                let overlap = self.overlap();
                if overlap <= 0.0 {
                    return true;
                }
                idle += 1;
                if overlap < least {
                    if overlap < 0.98 * least {
                        idle = 0;
                    }
                    least = overlap;
                    best.clone_from(&self.spots);
                }
            }
            strikes = if least < 0.98 * begin { 0 } else { strikes + 1 };
            self.take(&best);
        }
        least <= 0.0
    }
}

/// How often a piece is pushed out of what it overlaps most.
const PUSHES: usize = 6;

/// Rounding of sums, in millimetres.
pub(super) const TINY: f64 = 1e-6;

/// Where the 0,0 of a kind of piece as it is turned may lie in a room; `None` where it does not fit.
pub(super) fn range_of(pairs: &Pairs, own: (usize, u8), room: Bounds) -> Option<Bounds> {
    let own = pairs.kinds[own.0].bounds[usize::from(own.1)];
    let (min, max) = (room.min - own.min, room.max - own.max);
    let fits = max.x >= min.x - TINY && max.y >= min.y - TINY;
    fits.then(|| Bounds {
        min,
        max: Point::new(max.x.max(min.x), max.y.max(min.y)),
    })
}

fn clamped(at: Point, range: Bounds) -> Point {
    Point::new(
        at.x.clamp(range.min.x, range.max.x),
        at.y.clamp(range.min.y, range.max.y),
    )
}

/// The best places so far, none of them near a better one.
struct Best {
    spots: Vec<(f64, Spot)>,
    size: f64,
}

impl Best {
    fn limit(&self) -> f64 {
        match self.spots.last() {
            Some((cost, _)) if self.spots.len() >= IMPROVED => *cost,
            _ => f64::INFINITY,
        }
    }

    fn add(&mut self, cost: f64, spot: Spot) {
        if cost >= self.limit() {
            return;
        }
        let near = |other: &Spot| {
            other.sheet == spot.sheet
                && other.quarters == spot.quarters
                && (other.at.x - spot.at.x)
                    .abs()
                    .max((other.at.y - spot.at.y).abs())
                    < self.size / 20.0
        };
        if let Some(same) = self.spots.iter().position(|(_, other)| near(other)) {
            if self.spots[same].0 <= cost {
                return;
            }
            self.spots.remove(same);
        }
        let place = self.spots.partition_point(|(other, _)| *other <= cost);
        self.spots.insert(place, (cost, spot));
        self.spots.truncate(IMPROVED);
    }
}
