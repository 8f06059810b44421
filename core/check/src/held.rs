//! What holds each piece: joints, screws, hinges, runners, shelf pins, or its own weight.

use std::collections::BTreeMap;

use jigless_model::fact::Fact;
use jigless_model::hardware::FittingKind;
use jigless_model::plan::Plan;
use jigless_model::whole::Box3;

use crate::assembled::{Assembled, grown};
use crate::driven::Driven;
use crate::solid::Solid;

/// Surfaces that are no farther apart touch, in millimetres: what a saw leaves.
pub const TOUCHING: f64 = 0.2;
/// How far a hinge or runner reaches from one piece to the other, in millimetres.
const HARDWARE_REACH: f64 = 45.0;
/// How far a piece is looked for beside one that touches nothing, in millimetres.
const BESIDE: f64 = 60.0;
/// How far above the lowest piece something still stands on the floor, in millimetres.
const FLOOR: f64 = 1.0;

/// For so many it is said why they are loose; who has more has them for one reason, and looking beside thousands of
/// pieces that stand in one another takes the square of their number.
const MOST_LOOKED_AT: usize = 1000;

/// Why a piece, or several that are held together, is held by nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Why {
    /// It touches another piece, and nothing joins the two.
    Unjoined(usize),
    /// It touches nothing; the nearest piece, and how far it is.
    Apart(usize, f64),
    /// It hangs in the air.
    Floats,
}

/// What holds the pieces.
#[derive(Debug, Default)]
pub struct Held {
    /// What is held by nothing: numbers of pieces that hang together, and why.
    pub loose: Vec<(Vec<usize>, Why)>,
    /// Whether any two pieces are held together at all.
    pub any: bool,
    is_loose: Vec<bool>,
    groups: Vec<usize>,
}

impl Held {
    /// Whether a piece, or what it is part of, is held by nothing.
    pub fn is_loose(&self, solid: usize) -> bool {
        self.is_loose.get(solid).copied().unwrap_or(false)
    }

    /// The least number of the pieces that hang together with one.
    pub fn group(&self, solid: usize) -> usize {
        self.groups.get(solid).copied().unwrap_or(solid)
    }

    /// Looks at everything that may hold a piece.
    pub fn new(plan: &Plan, assembled: &Assembled, driven: &[(usize, Driven)]) -> Held {
        let mut links = Links::new(assembled.solids.len());
        joints(plan, assembled, &mut links);
        fasteners(assembled, driven, &mut links);
        hardware(assembled, &mut links);
        links.find_loose(assembled)
    }
}

/// Pieces that are held together, as a forest.
struct Links {
    parent: Vec<usize>,
    any: bool,
}

impl Links {
    fn new(count: usize) -> Self {
        Self {
            parent: (0..count).collect(),
            any: false,
        }
    }

    fn root(&mut self, mut piece: usize) -> usize {
        while self.parent[piece] != piece {
            self.parent[piece] = self.parent[self.parent[piece]];
            piece = self.parent[piece];
        }
        piece
    }

    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.root(one), self.root(other));
        self.any = true;
        // The lower number stays, so that the result does not hang on the order.
        self.parent[one.max(other)] = one.min(other);
    }

    fn find_loose(mut self, assembled: &Assembled) -> Held {
        let solids = &assembled.solids;
        let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for piece in 0..solids.len() {
            groups.entry(self.root(piece)).or_default().push(piece);
        }
        let low = |pieces: &[usize]| {
            let lows = pieces.iter().map(|piece| solids[*piece].bounds.min[1]);
            lows.fold(f64::INFINITY, f64::min)
        };
        let back = |pieces: &[usize]| {
            let backs = pieces.iter().map(|piece| solids[*piece].bounds.min[2]);
            backs.fold(f64::INFINITY, f64::min)
        };
        let all: Vec<usize> = (0..solids.len()).collect();
        let (floor, wall) = (low(&all), back(&all));
        // What lies in a piece of furniture is none of it, however many pieces it has itself.
        let size = |pieces: &Vec<usize>| {
            let own = pieces
                .iter()
                .filter(|piece| !solids[**piece].workpiece.part.loose);
            (own.count(), pieces.len())
        };
        let largest = groups.values().map(size).max().unwrap_or_default();
        let main = groups.values().find(|pieces| size(pieces) == largest);
        let main = main.map(|pieces| pieces[0]);
        let mut held = Held {
            loose: Vec::new(),
            any: self.any,
            is_loose: vec![false; solids.len()],
            groups: (0..solids.len()).map(|piece| self.root(piece)).collect(),
        };
        for pieces in groups.values() {
            let hung = pieces.iter().any(|piece| is_hung(&solids[*piece]));
            let moving = pieces.iter().any(|piece| moves(&solids[*piece]));
            if Some(pieces[0]) == main || moving && !hung {
                continue;
            }
            let stands = low(pieces) <= floor + FLOOR;
            let hangs = back(pieces) <= wall + FLOOR && pieces.len() > 1;
            if held.loose.len() == MOST_LOOKED_AT {
                for piece in pieces {
                    held.is_loose[*piece] = true;
                }
                continue;
            }
            let rests = pieces
                .iter()
                .any(|piece| solids[*piece].workpiece.part.loose);
            let touched = neighbour(assembled, &mut self, pieces, TOUCHING);
            let why = match (touched, pieces.len()) {
                (Some(_), _) if rests => continue,
                (Some((other, _)), _) => Why::Unjoined(other),
                // What stands or hangs by itself is a thing of its own.
                (None, 2..) if stands || hangs => continue,
                (None, _) => match neighbour(assembled, &mut self, pieces, BESIDE) {
                    Some((other, distance)) => Why::Apart(other, distance),
                    None if stands => continue,
                    None => Why::Floats,
                },
            };
            for piece in pieces {
                held.is_loose[*piece] = true;
            }
            held.loose.push((pieces.clone(), why));
        }
        held
    }
}

/// Whether a piece hangs on hinges or runners, which then must find theirs beside it.
fn is_hung(solid: &Solid) -> bool {
    is_hinged(solid) || has_work_of(solid, "runner_holes")
}

fn is_hinged(solid: &Solid) -> bool {
    let mut features = solid.workpiece.part.features.iter();
    features.any(|feature| {
        let mut facts = feature.work.facts.iter();
        facts.any(|fact| matches!(fact, Fact::HingeCups { .. }))
    })
}

fn has_work_of(solid: &Solid, key: &str) -> bool {
    let mut operations = solid.workpiece.operations.iter();
    operations.any(|operation| operation.origin.key == key)
}

/// Whether a piece moves, and is held by what lets it.
fn moves(solid: &Solid) -> bool {
    solid.workpiece.part.motion.is_some()
}

/// The nearest piece of another group within a distance, and how far it is.
fn neighbour(
    assembled: &Assembled,
    links: &mut Links,
    pieces: &[usize],
    within: f64,
) -> Option<(usize, f64)> {
    let own = links.root(pieces[0]);
    let mut nearest: Option<(usize, f64)> = None;
    for piece in pieces {
        for other in assembled.neighbours(*piece, within) {
            if links.root(other) == own {
                continue;
            }
            let (a, b) = (
                assembled.solids[*piece].bounds,
                assembled.solids[other].bounds,
            );
            let distance = gap(a, b);
            if within <= TOUCHING && !face_to_face(a, b) {
                continue;
            }
            if nearest.is_none_or(|(_, least)| distance < least - 1e-9) {
                nearest = Some((other, distance));
            }
        }
    }
    nearest
}

/// How far two boxes are from each other.
fn gap(a: Box3, b: Box3) -> f64 {
    let common = a.common(b);
    let apart = |axis: usize| (-common.size(axis)).max(0.0);
    (0..3).map(|axis| apart(axis).powi(2)).sum::<f64>().sqrt()
}

/// Whether two boxes that touch share more than a line.
fn face_to_face(a: Box3, b: Box3) -> bool {
    let common = a.common(b);
    (0..3).filter(|axis| common.size(*axis) > 1.0).count() >= 2
}

fn joints(plan: &Plan, assembled: &Assembled, links: &mut Links) {
    let mut numbers: BTreeMap<(&str, usize), usize> = BTreeMap::new();
    for (number, solid) in assembled.solids.iter().enumerate() {
        numbers.insert((solid.workpiece.part.id.as_str(), solid.number), number);
    }
    for joint in &plan.joints {
        for meeting in &joint.meetings {
            let one = numbers.get(&(joint.part.as_str(), meeting.part_piece));
            let other = numbers.get(&(joint.to.as_str(), meeting.to_piece));
            if let (Some(one), Some(other)) = (one, other) {
                links.join(*one, *other);
            }
        }
    }
}

fn fasteners(assembled: &Assembled, driven: &[(usize, Driven)], links: &mut Links) {
    for (solid, driven) in driven {
        if !driven.through {
            continue;
        }
        let mut end = f64::INFINITY;
        for stretch in assembled.stretches(driven.head, driven.tip()) {
            if stretch.solid == *solid {
                end = stretch.to;
            } else if stretch.from <= end + 1.0 {
                links.join(*solid, stretch.solid);
                end = end.max(stretch.to);
            }
        }
    }
}

/// Hinges, runners and shelf pins.
fn hardware(assembled: &Assembled, links: &mut Links) {
    let solids = &assembled.solids;
    for (number, solid) in solids.iter().enumerate() {
        let part = &solid.workpiece.part;
        let pinned = part
            .fittings
            .iter()
            .any(|fitting| fitting.kind == FittingKind::ShelfPin);
        let other_has = if is_hinged(solid) {
            "hinge_plates"
        } else if pinned {
            "pin_rows"
        } else if has_work_of(solid, "runner_holes") {
            "runner_holes"
        } else {
            continue;
        };
        for other in assembled.near(grown(solid.bounds, HARDWARE_REACH)) {
            if other != number && has_work_of(&solids[other], other_has) {
                links.join(number, other);
            }
        }
    }
}
