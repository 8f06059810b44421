//! By which way each part comes to those that are there, and what must not be there yet.

use std::collections::BTreeSet;

use jigless_model::plan::Part;
use jigless_model::whole::{Body, Box3, Direction};

/// Of so many pieces the ways are looked for: each is held against each.
const MOST: usize = 2000;

/// One part must be there before another, which would stand in its way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Before {
    /// The part that comes first.
    pub(crate) first: usize,
    /// The part that would stand in its way.
    pub(crate) then: usize,
}

/// What must come before what, so that every part of the whole finds a way in. Taken apart from the end: of `sequence`, the
/// order that is wished for, the last part that can leave what is left goes first. `waits` says what must come before what
/// for other reasons. Units that are built by themselves and what moves are passed over.
pub(crate) fn ways_in(parts: &[&Part], sequence: &[usize], waits: &[Before]) -> Vec<Before> {
    let counts = |index: &usize| {
        let part = parts[*index];
        part.group.is_none() && part.motion.is_none() && !part.places.is_empty()
    };
    let mut left: Vec<usize> = sequence.iter().copied().filter(counts).collect();
    if left
        .iter()
        .map(|part| parts[*part].places.len())
        .sum::<usize>()
        > MOST
    {
        return Vec::new();
    }
    let mut apart = Apart::new(parts, &left, waits);
    let mut befores = Vec::new();
    while !left.is_empty() {
        let found = (0..left.len())
            .rev()
            .find_map(|place| Some((place, apart.way_of(left[place])?)));
        // What has no way out is left to whoever looks at the order.
        let (place, way) = found.map_or((left.len() - 1, None), |(place, way)| (place, Some(way)));
        let part = left.remove(place);
        if let Some(way) = way {
            let later = apart.blockers[part][way].iter();
            befores.extend(later.map(|then| Before {
                first: part,
                then: *then,
            }));
        }
        apart.take_out(part);
    }
    befores
}

/// A whole that is taken apart.
struct Apart {
    /// For each part and each way, what it would run into.
    blockers: Vec<[Vec<usize>; 6]>,
    /// The same the other way round: what each part stops on which way.
    stops: Vec<Vec<(usize, usize)>>,
    /// How many of the blockers of each part and way are still there.
    still: Vec<[usize; 6]>,
    /// For each part, those that it cannot leave before.
    holds: Vec<Vec<usize>>,
    /// How many of those that hold each part are still there.
    held: Vec<usize>,
}

impl Apart {
    fn new(parts: &[&Part], there: &[usize], waits: &[Before]) -> Self {
        let boxes: Vec<Vec<Box3>> = parts
            .iter()
            .map(|part| part.bodies().iter().map(Body::bounds).collect())
            .collect();
        let count = parts.len();
        let mut apart = Self {
            blockers: (0..count).map(|_| Default::default()).collect(),
            stops: vec![Vec::new(); count],
            still: vec![[0; 6]; count],
            holds: vec![Vec::new(); count],
            held: vec![0; count],
        };
        for &own in there {
            for &other in there.iter().filter(|other| **other != own) {
                for (way, direction) in Direction::ALL.into_iter().enumerate() {
                    let mut pairs = boxes[own]
                        .iter()
                        .flat_map(|a| boxes[other].iter().map(move |b| (a, b)));
                    if pairs.any(|(a, b)| a.runs_into(*b, direction)) {
                        apart.blockers[own][way].push(other);
                        apart.stops[other].push((own, way));
                        apart.still[own][way] += 1;
                    }
                }
            }
        }
        let is_there: BTreeSet<usize> = there.iter().copied().collect();
        for wait in waits.iter().filter(|wait| is_there.contains(&wait.then)) {
            apart.holds[wait.then].push(wait.first);
            apart.held[wait.first] += 1;
        }
        apart
    }

    /// The way by which a part can go now; of several, the one that asks the fewest to come later.
    fn way_of(&self, part: usize) -> Option<usize> {
        if self.held[part] > 0 {
            return None;
        }
        (0..6)
            .filter(|way| self.still[part][*way] == 0)
            .min_by_key(|way| self.blockers[part][*way].len())
    }

    fn take_out(&mut self, part: usize) {
        for (own, way) in &self.stops[part] {
            self.still[*own][*way] -= 1;
        }
        for held in &self.holds[part] {
            self.held[*held] -= 1;
        }
    }
}
