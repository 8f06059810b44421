//! Some sheets are emptied in part and filled again with what is left out, so that all pieces come to lie on fewer.
//!
//! Where few pieces fill a sheet, which of them lie together counts for more than how, and guided local search does not
//! find that. So this is ruin and recreate (Schrimpf and others 2000, doi 10.1006/jcph.1999.6413) with late acceptance,
//! as for straight cuts: a piece goes where most of its border touches pieces and edges (touching perimeter: Lodi,
//! Martello and Vigo 1999, doi 10.1287/ijoc.11.4.345), looked for among the points where no-fit polygons have corners or
//! cross one another.

use fastrand::Rng;
use jigless_model::geom::{Bounds, Point};

use super::pairs::{Kind, Pairs, TOLERANCE};
use super::search::{Spot, TINY, range_of};
use crate::late_acceptance::LateAcceptance;

/// How many steps late acceptance looks back.
const HISTORY: usize = 60;

/// How often a place is overlooked, of 256.
const BLINK: u8 = 16;

/// How many sheets a step empties at most.
const MOST_SHEETS: usize = 3;

/// By how much the order of pieces, the largest first, is disturbed at most.
const DISTURBED: f64 = 0.35;

/// What lies this near touches, in millimetres.
const NEAR: f64 = 0.02;

/// How good sheets are, the less the better: area of what is left out, then how scattered the free room is.
type Value = (f64, f64);

pub(super) struct Refill<'a> {
    pub(super) pairs: &'a Pairs,
    /// The kind of each piece.
    pub(super) kinds: &'a [usize],
    pub(super) rooms: &'a [Bounds],
    /// Where each piece lies; `None` where it is left out.
    pub(super) spots: Vec<Option<Spot>>,
    pub(super) rng: Rng,
    /// How much has been done, in sides that were looked at.
    pub(super) work: u64,
}

impl Refill<'_> {
    /// Takes steps until all pieces are in, or so much work is done; the places where they are.
    pub(super) fn run(&mut self, most: u64) -> Option<Vec<Spot>> {
        let mut late = LateAcceptance::new(self.value(), HISTORY);
        loop {
            if let Some(spots) = self.spots.iter().copied().collect() {
                return Some(spots);
            }
            if self.work >= most {
                return None;
            }
            let before = self.spots.clone();
            self.ruin();
            self.recreate();
            if !late.accepts(self.value()) {
                self.spots = before;
            }
        }
    }

    fn kind(&self, piece: usize) -> &Kind {
        &self.pairs.kinds[self.kinds[piece]]
    }

    fn members(&self, sheet: usize) -> Vec<usize> {
        let on = |piece: &usize| self.spots[*piece].is_some_and(|spot| spot.sheet == sheet);
        (0..self.spots.len()).filter(on).collect()
    }

    /// The area that is free on each sheet.
    fn free(&self) -> Vec<f64> {
        let mut free: Vec<f64> = self.rooms.iter().map(|r| r.width() * r.height()).collect();
        for (piece, spot) in self.spots.iter().enumerate() {
            if let Some(spot) = spot {
                free[spot.sheet] -= self.kind(piece).area;
            }
        }
        free
    }

    fn value(&self) -> Value {
        let out = (0..self.spots.len()).filter(|&piece| self.spots[piece].is_none());
        let out = out.map(|piece| self.kind(piece).area).sum();
        let loose: f64 = self.free().iter().map(|free| free * free).sum();
        (out, -loose)
    }

    /// Empties some sheets in part, seldom those that are full.
    fn ruin(&mut self) {
        let free = self.free();
        let count = self.rng.usize(1..=MOST_SHEETS.min(self.rooms.len()));
        let most = free.iter().copied().fold(0.0, f64::max);
        for _ in 0..count {
            // The better one of two that are drawn by lot, most of the time.
            let (a, b) = (
                self.rng.usize(0..self.rooms.len()),
                self.rng.usize(0..self.rooms.len()),
            );
            let emptier = if free[a] >= free[b] { a } else { b };
            let is_full = free[emptier] < 0.02 * most;
            let sheet = if is_full && self.rng.u8(0..4) > 0 {
                b
            } else {
                emptier
            };
            let members = self.members(sheet);
            let share = self.rng.f64();
            for piece in members {
                if share > 0.7 || self.rng.f64() < share + 0.15 {
                    self.spots[piece] = None;
                }
            }
        }
    }

    /// Puts pieces back, large ones first by and large.
    fn recreate(&mut self) {
        let mut order: Vec<(f64, usize)> = Vec::new();
        for piece in 0..self.spots.len() {
            if self.spots[piece].is_none() {
                let disturbed = 1.0 + DISTURBED * (self.rng.f64() - 0.5) * 2.0;
                order.push((self.kind(piece).area * disturbed, piece));
            }
        }
        order.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut free = self.free();
        let mut missing: Vec<usize> = Vec::new();
        for (_, piece) in order {
            let kind = self.kinds[piece];
            if missing.contains(&kind) {
                continue;
            }
            if let Some(spot) = self.best_spot(piece, &free) {
                free[spot.sheet] -= self.kind(piece).area;
                self.spots[piece] = Some(spot);
            } else {
                missing.push(kind);
            }
        }
    }

    /// Where most of the border of a piece touches something.
    fn best_spot(&mut self, piece: usize, free: &[f64]) -> Option<Spot> {
        let mut best: Option<(f64, Spot)> = None;
        let turns = self.kind(piece).turns.clone();
        let area = self.kind(piece).area;
        for (sheet, left) in free.iter().enumerate() {
            // To a thousandth, for areas are rounded.
            if area > left * 1.001 {
                continue;
            }
            let members = self.members(sheet);
            for &quarters in &turns {
                for at in self.places(piece, sheet, quarters, &members) {
                    let spot = Spot {
                        sheet,
                        quarters,
                        at,
                    };
                    let contact = self.contact(piece, spot, &members);
                    if best.is_none_or(|(other, _)| contact > other) && self.rng.u8(..) >= BLINK {
                        best = Some((contact, spot));
                    }
                }
            }
        }
        best.map(|(_, spot)| spot)
    }

    /// Points at which a piece touches two others or an edge, and overlaps none.
    fn places(
        &mut self,
        piece: usize,
        sheet: usize,
        quarters: u8,
        members: &[usize],
    ) -> Vec<Point> {
        let own = (self.kinds[piece], quarters);
        let Some(range) = range_of(self.pairs, own, self.rooms[sheet]) else {
            return Vec::new();
        };
        let mut points = vec![
            range.min,
            range.max,
            Point::new(range.min.x, range.max.y),
            Point::new(range.max.x, range.min.y),
        ];
        let mut lines: Vec<(usize, Point, Point)> = Vec::new();
        for &member in members {
            let Some(to) = self.spots[member] else {
                continue;
            };
            let other = (self.kinds[member], to.quarters);
            let (no_fit, view, distance) = self.pairs.of(other, own);
            let Some(no_fit) = no_fit else { continue };
            for (from, end, outward) in no_fit.sides() {
                let off = outward * (distance + TOLERANCE).max(0.0);
                let from = to.at + view.on_sheet(from + off);
                let end = to.at + view.on_sheet(end + off);
                points.extend([from, end]);
                for x in [range.min.x, range.max.x] {
                    if (from.x - x) * (end.x - x) < 0.0 {
                        let share = (x - from.x) / (end.x - from.x);
                        points.push(Point::new(x, from.y + share * (end.y - from.y)));
                    }
                }
                for y in [range.min.y, range.max.y] {
                    if (from.y - y) * (end.y - y) < 0.0 {
                        let share = (y - from.y) / (end.y - from.y);
                        points.push(Point::new(from.x + share * (end.x - from.x), y));
                    }
                }
                lines.push((member, from, end));
            }
        }
        for (number, a) in lines.iter().enumerate() {
            for b in &lines[..number] {
                if a.0 != b.0 {
                    points.extend(crossing((a.1, a.2), (b.1, b.2)));
                }
            }
        }
        self.work += (lines.len() * lines.len() / 8) as u64;
        let within = |at: &Point| {
            at.x >= range.min.x - TINY
                && at.x <= range.max.x + TINY
                && at.y >= range.min.y - TINY
                && at.y <= range.max.y + TINY
        };
        points.retain(within);
        points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        points.dedup_by(|a, b| a.distance(*b) < NEAR / 4.0);
        let mut work = 0;
        points.retain(|&at| {
            members.iter().all(|&member| {
                let Some(to) = self.spots[member] else {
                    return true;
                };
                let other = (self.kinds[member], to.quarters);
                let (no_fit, view, distance) = self.pairs.of(other, own);
                work += 4;
                no_fit.is_none_or(|no_fit| no_fit.depth(view.seen(at - to.at), distance) <= 0.0)
            })
        });
        self.work += work;
        points
    }

    /// The share of the border of a piece that touches pieces and edges.
    fn contact(&mut self, piece: usize, spot: Spot, members: &[usize]) -> f64 {
        let room = self.rooms[spot.sheet];
        let kind = self.kind(piece);
        let outline = &kind.outlines[usize::from(spot.quarters)];
        let bounds = kind.bounds[usize::from(spot.quarters)].moved(spot.at);
        let border: f64 = sides(outline).map(|(from, to)| from.distance(to)).sum();
        let on_edge = |(from, to): &(Point, Point)| {
            let lies =
                |a: f64, b: f64, edge: f64| (a - edge).abs() < NEAR && (b - edge).abs() < NEAR;
            let (from, to) = (*from + spot.at, *to + spot.at);
            lies(from.x, to.x, room.min.x)
                || lies(from.x, to.x, room.max.x)
                || lies(from.y, to.y, room.min.y)
                || lies(from.y, to.y, room.max.y)
        };
        let edges = sides(outline).filter(on_edge);
        let mut sum: f64 = edges.map(|(from, to)| from.distance(to)).sum();
        let mut work = 0;
        for &member in members {
            let Some(to) = self.spots[member] else {
                continue;
            };
            let other = self.kind(member);
            let theirs = other.bounds[usize::from(to.quarters)].moved(to.at);
            let own = (self.kinds[piece], spot.quarters);
            let (_, _, distance) = self.pairs.of((self.kinds[member], to.quarters), own);
            let reach = distance + NEAR;
            let apart = (theirs.min.x - bounds.max.x)
                .max(bounds.min.x - theirs.max.x)
                .max(theirs.min.y - bounds.max.y)
                .max(bounds.min.y - theirs.max.y);
            if apart > reach {
                continue;
            }
            let around = &other.outlines[usize::from(to.quarters)];
            work += (outline.len() * around.len()) as u64 / 4;
            for (p, q) in sides(outline) {
                for (r, s) in sides(around) {
                    let by = to.at - spot.at;
                    sum += shared((p, q), (r + by, s + by), reach);
                }
            }
        }
        self.work += work;
        sum / border
    }
}

/// The length along which two sides in opposite directions lie within reach of each other.
fn shared((p, q): (Point, Point), (r, s): (Point, Point), reach: f64) -> f64 {
    let (along, other) = (q - p, s - r);
    let length = along.dot(along).sqrt();
    if along.dot(other) >= 0.0 || along.cross(r - p).abs() > reach * length {
        return 0.0;
    }
    if along.cross(s - p).abs() > reach * length {
        return 0.0;
    }
    let from = along.dot(s - p) / length;
    let to = along.dot(r - p) / length;
    (to.min(length) - from.max(0.0)).max(0.0)
}

/// Where two lines cross, if they do.
fn crossing((p, q): (Point, Point), (r, s): (Point, Point)) -> Option<Point> {
    let (along, other) = (q - p, s - r);
    let turn = along.cross(other);
    if turn.abs() < 1e-9 {
        return None;
    }
    let share = (r - p).cross(other) / turn;
    let of_other = (r - p).cross(along) / turn;
    let on = |share: f64| (0.0..=1.0).contains(&share);
    (on(share) && on(of_other)).then(|| p + along * share)
}

fn sides(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    ring.iter()
        .copied()
        .zip(ring.iter().copied().cycle().skip(1))
}
