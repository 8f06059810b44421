//! Goal-driven ruin and recreate over rectangles that lie anywhere.
//!
//! The course of the search is that for straight cuts (Gardeyn and Wauters 2022, see `straight::search`): what sheets may
//! cost is limited, a few neighbours are freed, pieces are put back, and late acceptance decides. Free room is kept as
//! the list of all largest empty rectangles, as in the MAXRECTS heuristics (Jylänki, "A thousand ways to pack the bin",
//! 2010), and of the corners of one the piece takes that in which most of its border touches something.

use fastrand::Rng;

use super::sheet::{Lying, Rectangle, Sheet};
use crate::late_acceptance::LateAcceptance;
use crate::straight::{Task, cheapest_cut};
use crate::undo::Undo;

/// How many pieces a step frees on average.
const FREED: usize = 8;

/// How often a place is overlooked, of 256.
const BLINK: u8 = 13;

/// How many steps late acceptance looks back.
const HISTORY: usize = 200;

/// What a step counts beside the places that it looks at.
const STEP: u64 = 300;

/// How good a layout is, the less the better: area of what is left out, then how scattered the free room is.
type Value = (i64, f64);

pub(super) struct Search<'a> {
    task: &'a Task,
    rng: Rng,
    pub(super) sheets: Vec<Sheet>,
    pub(super) out: Vec<u32>,
    /// Sheets as they were before the step.
    before: Undo<Sheet>,
    out_before: Vec<u32>,
    work: u64,
}

/// A place for a piece.
#[derive(Clone, Copy)]
struct Place {
    sheet: usize,
    room: Rectangle,
    size: (i32, i32),
    turned: bool,
}

impl<'a> Search<'a> {
    /// With sheets that all may be used, and pieces that are left out.
    pub(super) fn new(task: &'a Task, sheets: Vec<Sheet>, out: Vec<u32>, seed: u64) -> Self {
        let mut search = Self {
            task,
            rng: Rng::with_seed(seed),
            sheets,
            out,
            before: Undo::new(),
            out_before: Vec::new(),
            work: 0,
        };
        for sheet in &mut search.sheets {
            sheet.look_at_rooms();
        }
        search
    }

    fn value(&self) -> Value {
        let area = |&kind: &u32| self.task.items[kind as usize].area();
        let loose: f64 = self.sheets.iter().map(Sheet::looseness).sum();
        (self.out.iter().map(area).sum(), -loose)
    }

    /// Takes steps until all pieces are in, or so much work is done; gives how much was.
    pub(super) fn run(&mut self, most: u64) -> u64 {
        let mut late = LateAcceptance::new(self.value(), HISTORY);
        self.work = 0;
        while self.work < most && !self.out.is_empty() {
            self.work += STEP;
            self.out_before.clone_from(&self.out);
            self.ruin();
            self.recreate();
            if late.accepts(self.value()) {
                self.before.forget();
            } else {
                self.before.undo(&mut self.sheets);
                std::mem::swap(&mut self.out, &mut self.out_before);
            }
        }
        self.work
    }

    /// Frees what meets a window around a piece, on some sheets.
    fn ruin(&mut self) {
        let mut out = std::mem::take(&mut self.out);
        let most = self.rng.usize(1..2 * FREED) + out.len();
        for _ in 0..2 * FREED {
            if out.len() >= most {
                break;
            }
            let index = self.rng.usize(0..self.sheets.len());
            let count = self.sheets[index].lying.len();
            if count == 0 {
                continue;
            }
            let centre = self.sheets[index].lying[self.rng.usize(0..count)].at;
            // So large that it holds about so many pieces, if they are of one size.
            let wanted = self.rng.usize(0..FREED) as f64 / count as f64;
            let whole = self.sheets[index].whole;
            let share = wanted.min(1.0).sqrt();
            let half = |side: i32| (f64::from(side) * share / 2.0) as i32;
            let (beside, above) = (half(whole.width), half(whole.height));
            let window = Rectangle {
                x: centre.x + centre.width / 2 - beside,
                y: centre.y + centre.height / 2 - above,
                width: 2 * beside + 1,
                height: 2 * above + 1,
            };
            self.before.save(&self.sheets, index);
            self.sheets[index].clear(window, &mut out);
        }
        self.out = out;
        for index in self.before.numbers() {
            let sheet = &mut self.sheets[index];
            sheet.look_at_rooms();
            self.work += (sheet.lying.len() * sheet.rooms.len()) as u64 / 2;
        }
    }

    /// Puts pieces back, those first that have the fewest places to go to.
    fn recreate(&mut self) {
        let items = &self.task.items;
        let places = |kind: u32| -> usize {
            let fits = |sheet: &Sheet| {
                let holds = |(w, h, _): (i32, i32, bool)| {
                    let rooms = sheet.rooms.iter();
                    rooms
                        .filter(|room| w <= room.width && h <= room.height)
                        .count()
                };
                items[kind as usize].positions().map(holds).sum::<usize>()
            };
            self.sheets.iter().map(fits).sum()
        };
        self.out.sort_unstable();
        let rooms: usize = self.sheets.iter().map(|sheet| sheet.rooms.len()).sum();
        self.work += (rooms * self.out.len()) as u64;
        let by_area = self.rng.u8(0..4) == 0;
        let mut keys: Vec<(usize, i64, u32)> = self
            .out
            .iter()
            .map(|&kind| {
                let first = if by_area { 0 } else { places(kind) };
                (first, -items[kind as usize].area(), kind)
            })
            .collect();
        keys.sort_unstable();
        // Now and then one comes to its turn too early.
        if keys.len() > 1 && self.rng.u8(0..4) == 0 {
            let early = self.rng.usize(1..keys.len());
            keys[..=early].rotate_right(1);
        }
        self.out.clear();
        for (.., kind) in keys {
            match self.best_place(kind) {
                Some(place) => self.put(kind, place),
                None => self.out.push(kind),
            }
        }
    }

    /// Where a piece fits best: where the square of the free area loses the least.
    fn best_place(&mut self, kind: u32) -> Option<Place> {
        let item = &self.task.items[kind as usize];
        let least = item.width.min(item.height);
        let mut best: Option<(f64, Place)> = None;
        self.work += self.sheets.len() as u64;
        for (index, sheet) in self.sheets.iter().enumerate() {
            if sheet.widest < least || sheet.highest < least {
                continue;
            }
            for (width, height, turned) in item.positions() {
                if width > sheet.widest || height > sheet.highest {
                    continue;
                }
                self.work += sheet.rooms.len() as u64;
                for room in &sheet.rooms {
                    if width > room.width || height > room.height {
                        continue;
                    }
                    let tried = cheapest_cut((room.width, room.height), (width, height));
                    let loss = tried[0].0.min(tried[1].0);
                    let better = best.as_ref().is_none_or(|(other, _)| loss < *other);
                    if !better || self.rng.u8(..) < BLINK {
                        continue;
                    }
                    let place = Place {
                        sheet: index,
                        room: *room,
                        size: (width, height),
                        turned,
                    };
                    best = Some((loss, place));
                }
            }
        }
        best.map(|(_, place)| place)
    }

    fn put(&mut self, kind: u32, place: Place) {
        self.before.save(&self.sheets, place.sheet);
        let Place { room, size, .. } = place;
        let sheet = &mut self.sheets[place.sheet];
        let mut best = (i32::MIN, room);
        for x in [room.x, room.right() - size.0] {
            for y in [room.y, room.top() - size.1] {
                let at = Rectangle {
                    x,
                    y,
                    width: size.0,
                    height: size.1,
                };
                let contact = sheet.contact(&at);
                if contact > best.0 {
                    best = (contact, at);
                }
            }
        }
        self.work += sheet.lying.len() as u64 + sheet.rooms.len() as u64;
        sheet.put(Lying {
            at: best.1,
            kind,
            turned: place.turned,
        });
    }
}
