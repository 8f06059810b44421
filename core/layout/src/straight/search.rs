//! Goal-driven ruin and recreate over trees of straight cuts.
//!
//! After Gardeyn and Wauters, "A goal-driven ruin and recreate heuristic for the 2D variable-sized bin packing problem
//! with guillotine constraints" (EJOR 2022, doi 10.1016/j.ejor.2021.11.031): whatever the sheets that may be used cost
//! is limited to less than the best complete layout costs, and the search then looks for a layout of all pieces within
//! that limit. Each step frees a few rectangles of some sheets and puts pieces back where they fit best; now and then a
//! place is overlooked on purpose. Late acceptance decides whether the step stands: first by the area
//! of the pieces that are left out, then by how much of the free room is in large rectangles.

use fastrand::Rng;
use jigless_model::sheets::CutDirection;

use super::limit::Limit;
use super::tree::{Kind, NONE, ROOT, Room, Tree};
use crate::late_acceptance::LateAcceptance;
use crate::undo::Undo;

/// Pieces that are alike, grown by the kerf.
#[derive(Debug, Clone)]
pub(crate) struct Item {
    pub(crate) width: i32,
    pub(crate) height: i32,
    pub(crate) may_turn: bool,
    pub(crate) count: u32,
    /// Sheets with pieces of a greater number are cut first, and such pieces are put on sheets first.
    pub(super) priority: i32,
    /// Number of the group that must lie on one sheet.
    pub(super) group: Option<usize>,
}

impl Item {
    pub(crate) fn area(&self) -> i64 {
        i64::from(self.width) * i64::from(self.height)
    }

    /// The sizes in which it may lie, and whether each is turned.
    pub(crate) fn positions(&self) -> impl Iterator<Item = (i32, i32, bool)> {
        let turned = self.may_turn && self.width != self.height;
        let turned = turned.then_some((self.height, self.width, true));
        std::iter::once((self.width, self.height, false)).chain(turned)
    }
}

/// A size of sheet, grown by the kerf.
#[derive(Debug, Clone)]
pub(crate) struct Size {
    pub(crate) width: i32,
    pub(crate) height: i32,
    pub(crate) count: u32,
    pub(crate) cost: i64,
}

/// What is looked for.
#[derive(Debug, Clone)]
pub(crate) struct Task {
    pub(crate) items: Vec<Item>,
    pub(crate) sizes: Vec<Size>,
    /// How often the direction of cutting may change.
    pub(super) stages: u32,
    pub(crate) groups: usize,
    /// What one person can handle after the first cuts.
    pub(super) limit: Limit,
}

impl Task {
    /// Every copy of every item.
    pub(super) fn copies(&self) -> Vec<u32> {
        let copies =
            |(kind, item): (usize, &Item)| std::iter::repeat_n(kind as u32, item.count as usize);
        self.items.iter().enumerate().flat_map(copies).collect()
    }
}

/// Sheets and the pieces for which there is no room on them.
#[derive(Debug, Clone)]
pub(super) struct Layout {
    pub(super) trees: Vec<Tree>,
    pub(super) out: Vec<u32>,
    pub(crate) cost: i64,
}

/// How good a layout is: the less the better.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub(super) struct Value {
    /// Area of what is left out, more where its priority is high.
    pub(super) out: i64,
    /// Less the sum of the squares of free areas, as shares of their sheets.
    tightness: f64,
}

/// How the search goes about it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Manner {
    /// How many rectangles a step frees on average.
    pub(super) freed: u32,
    /// How often a place is overlooked, of 256.
    pub(super) blink: u8,
    /// How many steps late acceptance looks back.
    pub(super) history: usize,
}

/// What a step frees and overlooks; found by trials on the ten classes of published instances.
pub(super) const MANNER: Manner = Manner {
    freed: 12,
    blink: 13,
    history: 200,
};

/// How often the way in which the first piece of a sheet lies is drawn by lot, of 256.
const FIRST_BY_LOT: u8 = 85;

/// A free slot among the sheets.
const CLOSED: usize = usize::MAX;

pub(super) struct Search<'a> {
    task: &'a Task,
    manner: Manner,
    rng: Rng,
    trees: Vec<Tree>,
    /// The pieces that are left out.
    out: Vec<u32>,
    /// What the open sheets cost, and may cost.
    cost: i64,
    pub(super) budget: i64,
    opened: Vec<u32>,
    /// Of each group: the sheet that it is on and how many of its pieces are there.
    groups: Vec<(usize, u32)>,
    /// Sheets as they were before the step.
    before: Undo<Tree>,
    out_before: Vec<u32>,
    cheapest: i64,
    /// How many places have been looked at.
    work: u64,
}

/// What a step counts beside the places that it looks at.
const STEP: u64 = 300;

/// A place for a piece.
#[derive(Clone, Copy)]
struct Place {
    /// The sheet; past the last one, a new sheet of size `tree - trees`.
    tree: usize,
    room: u32,
    first: CutDirection,
    size: (i32, i32),
    turned: bool,
}

impl<'a> Search<'a> {
    pub(super) fn new(task: &'a Task, manner: Manner, seed: u64) -> Self {
        Self {
            task,
            manner,
            rng: Rng::with_seed(seed),
            trees: Vec::new(),
            out: task.copies(),
            cost: 0,
            budget: i64::MAX,
            opened: vec![0; task.sizes.len()],
            groups: vec![(0, 0); task.groups],
            before: Undo::new(),
            out_before: Vec::new(),
            work: 0,
            cheapest: task
                .sizes
                .iter()
                .map(|size| size.cost)
                .min()
                .unwrap_or(1)
                .max(1),
        }
    }

    /// The layout as it is.
    pub(super) fn layout(&self) -> Layout {
        let open = self.trees.iter().filter(|tree| tree.size != CLOSED);
        Layout {
            trees: open.cloned().collect(),
            out: self.out.clone(),
            cost: self.cost,
        }
    }

    /// Goes on from another layout.
    pub(super) fn take(&mut self, layout: &Layout) {
        self.trees.clone_from(&layout.trees);
        self.out.clone_from(&layout.out);
        self.cost = layout.cost;
        self.opened.fill(0);
        for tree in &self.trees {
            self.opened[tree.size] += 1;
        }
        self.count_groups();
    }

    fn count_groups(&mut self) {
        self.groups.fill((0, 0));
        if self.groups.is_empty() {
            return;
        }
        for (index, tree) in self.trees.iter().enumerate() {
            for node in &tree.nodes {
                if let Kind::Piece(kind, _) = node.kind
                    && let Some(group) = self.task.items[kind as usize].group
                {
                    self.groups[group] = (index, self.groups[group].1 + 1);
                }
            }
        }
    }

    fn is_full(tree: &Tree) -> bool {
        tree.size == CLOSED || tree.rooms.is_empty()
    }

    pub(super) fn value(&self) -> Value {
        let weighed = |&kind: &u32| {
            let item = &self.task.items[kind as usize];
            item.area() * (1 + i64::from(item.priority.max(0)))
        };
        let open = self.trees.iter().filter(|tree| tree.size != CLOSED);
        let loose: f64 = open.map(|tree| tree.looseness).sum();
        let unopened = if self.budget == i64::MAX {
            0.0
        } else {
            (self.budget - self.cost).div_euclid(self.cheapest) as f64
        };
        Value {
            out: self.out.iter().map(weighed).sum(),
            tightness: -(loose + unopened),
        }
    }

    /// Puts all pieces that are left out where they fit best, in an order, with nothing overlooked.
    pub(super) fn construct(&mut self, order: impl Fn(&Item) -> (i64, i64)) {
        let items = &self.task.items;
        self.out.sort_by_key(|&kind| {
            let item = &items[kind as usize];
            let (first, second) = order(item);
            (-i64::from(item.priority), -first, -second, kind)
        });
        self.put_back(0);
    }

    /// Closes sheets until the others are within the limit, the emptiest for their cost first.
    pub(super) fn close_down(&mut self) {
        while self.cost > self.budget {
            let open = self.trees.iter().enumerate();
            let emptiest = open
                .filter(|(_, tree)| tree.size != CLOSED)
                .min_by(|(_, a), (_, b)| {
                    let share =
                        |tree: &Tree| tree.used as f64 / self.task.sizes[tree.size].cost as f64;
                    share(a).total_cmp(&share(b))
                });
            let Some((index, _)) = emptiest else { break };
            let mut out = std::mem::take(&mut self.out);
            self.trees[index].remove(ROOT, &mut out);
            self.out = out;
            self.close(index);
        }
        self.count_groups();
    }

    fn close(&mut self, index: usize) {
        let size = self.trees[index].size;
        self.cost -= self.task.sizes[size].cost;
        self.opened[size] -= 1;
        self.trees[index].size = CLOSED;
        self.trees[index].rooms.clear();
        self.trees[index].looseness = 0.0;
    }

    /// Takes steps until all pieces are in, or so much work is done; gives how much was. Work is counted in places that
    /// are looked at, so it takes the same time for all lists and ends at the same step on every machine. `seen` is
    /// handed every layout that is better than all before.
    pub(super) fn run(&mut self, most: u64, mut seen: impl FnMut(&Self)) -> u64 {
        let mut best = self.value();
        seen(self);
        let mut late = LateAcceptance::new(best, self.manner.history);
        self.work = 0;
        while self.work < most && !self.out.is_empty() {
            self.work += STEP;
            self.out_before.clone_from(&self.out);
            self.ruin();
            self.recreate();
            let value = self.value();
            if late.accepts(value) {
                self.before.forget();
                if value < best {
                    best = value;
                    seen(self);
                }
            } else {
                self.undo();
            }
        }
        self.work
    }

    fn undo(&mut self) {
        self.before.undo(&mut self.trees);
        std::mem::swap(&mut self.out, &mut self.out_before);
        self.cost = 0;
        self.opened.fill(0);
        for tree in &self.trees {
            if tree.size != CLOSED {
                self.cost += self.task.sizes[tree.size].cost;
                self.opened[tree.size] += 1;
            }
        }
        self.count_groups();
    }

    /// Frees some rectangles of some sheets.
    fn ruin(&mut self) {
        let freed = self.rng.u32(1..2 * self.manner.freed);
        let mut out = std::mem::take(&mut self.out);
        for _ in 0..freed {
            let index = self.rng.usize(0..self.trees.len().max(1));
            if self
                .trees
                .get(index)
                .is_none_or(|tree| tree.size == CLOSED || tree.is_empty())
            {
                continue;
            }
            let nodes = self.trees[index].nodes.len();
            let node = self.rng.usize(0..nodes);
            if matches!(
                self.trees[index].nodes[node].kind,
                Kind::Free | Kind::Unused
            ) {
                continue;
            }
            self.before.save(&self.trees, index);
            self.trees[index].remove(node as u32, &mut out);
        }
        self.out = out;
        let changed: Vec<usize> = self.before.numbers().collect();
        for index in changed {
            if self.trees[index].size == CLOSED {
                continue;
            }
            if self.trees[index].is_empty() {
                self.close(index);
            } else {
                self.look_at(index);
            }
        }
        self.count_groups();
    }

    fn look_at(&mut self, index: usize) {
        self.trees[index].look_at_rooms();
        if self.task.stages != u32::MAX {
            self.trees[index].look_at_depths();
        }
    }

    /// Puts pieces back, those first that have the fewest places to go to.
    fn recreate(&mut self) {
        let items = &self.task.items;
        let rng = &mut self.rng;
        let places = |kind: u32| -> u32 {
            let fits = |tree: &Tree| {
                let holds = |(w, h, _): (i32, i32, bool)| {
                    let rooms = tree.rooms.iter();
                    rooms
                        .filter(|room| w <= room.width && h <= room.height)
                        .count() as u32
                };
                items[kind as usize].positions().map(holds).sum::<u32>()
            };
            self.trees.iter().map(fits).sum()
        };
        self.out.sort_unstable();
        let rooms: usize = self.trees.iter().map(|tree| tree.rooms.len()).sum();
        self.work += (rooms * self.out.len()) as u64;
        let mut last = (NONE, 0);
        let mut keys = Vec::with_capacity(self.out.len());
        for &kind in &self.out {
            if last.0 != kind {
                last = (kind, places(kind));
            }
            let item = &items[kind as usize];
            keys.push((-i64::from(item.priority), last.1, -item.area(), kind));
        }
        keys.sort_unstable();
        // Now and then one comes to its turn too early.
        if keys.len() > 1 && rng.u8(0..4) == 0 {
            let early = rng.usize(1..keys.len());
            keys[..=early].rotate_right(1);
        }
        self.out.clear();
        self.out.extend(keys.into_iter().map(|(.., kind)| kind));
        self.put_back(self.manner.blink);
    }

    fn put_back(&mut self, blink: u8) {
        let mut left = Vec::new();
        let out = std::mem::take(&mut self.out);
        let mut missing = NONE;
        for &kind in &out {
            // Of pieces that are alike the next one finds no place either, but for those that were overlooked.
            if kind == missing {
                left.push(kind);
                continue;
            }
            if let Some(place) = self.best_place(kind, blink) {
                self.put(kind, place);
            } else {
                missing = kind;
                left.push(kind);
            }
        }
        self.out = left;
    }

    fn put(&mut self, kind: u32, place: Place) {
        let mut index = place.tree;
        if index >= self.trees.len() {
            index = self.open(index - self.trees.len());
        } else {
            self.before.save(&self.trees, index);
        }
        self.trees[index].insert(place.room, place.first, place.size, (kind, place.turned));
        self.look_at(index);
        if let Some(group) = self.task.items[kind as usize].group {
            self.groups[group] = (index, self.groups[group].1 + 1);
        }
    }

    /// Opens a sheet of a size, and gives its slot.
    fn open(&mut self, size: usize) -> usize {
        let Size {
            width,
            height,
            cost,
            ..
        } = self.task.sizes[size];
        self.cost += cost;
        self.opened[size] += 1;
        let fresh = Tree::new(size, width, height);
        if let Some(index) = self.trees.iter().position(|tree| tree.size == CLOSED) {
            self.before.save(&self.trees, index);
            self.trees[index] = fresh;
            return index;
        }
        self.trees.push(fresh);
        // What did not exist before the step is closed when the step is undone.
        let index = self.trees.len() - 1;
        let mut closed = self.before.copy_of(&self.trees[index]);
        closed.size = CLOSED;
        closed.rooms.clear();
        closed.looseness = 0.0;
        self.before.keep(index, closed);
        index
    }

    /// Where a piece fits best: where the squares of the free areas lose the least.
    fn best_place(&mut self, kind: u32, blink: u8) -> Option<Place> {
        let item = &self.task.items[kind as usize];
        let stages = self.task.stages;
        let bound_to = item
            .group
            .map(|group| self.groups[group])
            .filter(|(_, count)| *count > 0)
            .map(|(tree, _)| tree);
        let mut best: Option<(f64, Place)> = None;
        let least = item.width.min(item.height);
        self.work += self.trees.len() as u64;
        for (index, tree) in self.trees.iter().enumerate() {
            if Self::is_full(tree) || bound_to.is_some_and(|only| only != index) {
                continue;
            }
            if tree.widest < least || tree.highest < least {
                continue;
            }
            for (width, height, turned) in item.positions() {
                if width > tree.widest || height > tree.highest {
                    continue;
                }
                self.work += tree.rooms.len() as u64;
                for room in &tree.rooms {
                    if width > room.width || height > room.height {
                        continue;
                    }
                    let tried = cheapest_cut((room.width, room.height), (width, height));
                    for (loss, first) in tried {
                        if best.as_ref().is_some_and(|(other, _)| *other <= loss) {
                            continue;
                        }
                        let (whole, size) = ((room.width, room.height), (width, height));
                        if !self.task.limit.allows(whole, size, first) {
                            continue;
                        }
                        if blink > 0 && self.rng.u8(..) < blink {
                            continue;
                        }
                        if stages != u32::MAX && stage_of(room, size, first) > stages {
                            continue;
                        }
                        let place = Place {
                            tree: index,
                            room: room.node,
                            first,
                            size: (width, height),
                            turned,
                        };
                        best = Some((loss, place));
                    }
                }
            }
        }
        if best.is_some() || bound_to.is_some() {
            return best.map(|(_, place)| place);
        }
        let sizes = self.task.sizes.iter().enumerate();
        for (number, size) in sizes {
            let more = self.opened[number] < size.count;
            let within = self.budget == i64::MAX || self.cost + size.cost <= self.budget;
            if !more || !within {
                continue;
            }
            for (width, height, turned) in item.positions() {
                if width > size.width || height > size.height {
                    continue;
                }
                let whole = (size.width, size.height);
                for (loss, first) in cheapest_cut(whole, (width, height)) {
                    if !self.task.limit.allows(whole, (width, height), first) {
                        continue;
                    }
                    // Of several sizes the cheapest for its area.
                    let area = f64::from(size.width) * f64::from(size.height);
                    let loss = loss / (area * area) + size.cost as f64 / area * 1e3;
                    // The first piece decides much, so it does not always lie in the same way.
                    let chance = blink > 0 && self.rng.u8(..) < FIRST_BY_LOT;
                    if chance || best.as_ref().is_none_or(|(other, _)| loss < *other) {
                        let place = Place {
                            tree: self.trees.len() + number,
                            room: ROOT,
                            first,
                            size: (width, height),
                            turned,
                        };
                        best = Some((loss, place));
                    }
                }
            }
        }
        best.map(|(_, place)| place)
    }
}

/// In which stage the last cut lies that frees a piece from a room.
fn stage_of(room: &Room, (width, height): (i32, i32), first: CutDirection) -> u32 {
    let (w, h) = (width < room.width, height < room.height);
    let begins = match first {
        CutDirection::Along => w,
        CutDirection::Across => h,
    };
    let beside = room.direction == Some(first) && begins;
    let goes_on = !begins && (w || h) && room.direction == Some(first.other());
    room.depth + u32::from(w) + u32::from(h) - u32::from(beside || goes_on)
}

/// What the squares of free areas lose when a piece is put into a room, for either direction of the first cut.
pub(crate) fn cheapest_cut(room: (i32, i32), piece: (i32, i32)) -> [(f64, CutDirection); 2] {
    let (w, h) = (f64::from(room.0), f64::from(room.1));
    let (pw, ph) = (f64::from(piece.0), f64::from(piece.1));
    let whole = w * h;
    let square = |a: f64| a * a;
    let along = square(whole) - square((w - pw) * h) - square(pw * (h - ph));
    let across = square(whole) - square(w * (h - ph)) - square((w - pw) * ph);
    [(along, CutDirection::Along), (across, CutDirection::Across)]
}
