//! Rectangles on fewer sheets than straight cuts take, for machines that cut along outlines.
//!
//! | file | does |
//! |---|---|
//! | `sheet` | a sheet, its pieces and the largest empty rectangles between them |
//! | `search` | ruin and recreate on a given number of sheets |
//!
//! It begins with a layout by straight cuts, and ends when an amount of work is done, never by the clock.

mod search;
mod sheet;

use jigless_model::sheets::{CutSheet, Effort, Micrometres, SheetAnswer};

use crate::straight::Prepared;
use search::Search;
use sheet::{Lying, Rectangle, Sheet};

/// After so much work in vain the search begins again from the layout that it began with.
const ROUND: u64 = 150_000_000;

/// Where a piece lies: its kind, whether it is turned, and its lower left corner on the sheet.
pub(super) type Lies = (usize, bool, (Micrometres, Micrometres));

/// A sheet of some size and what lies on it.
pub(super) struct FreeSheet {
    pub(super) size: usize,
    pub(super) pieces: Vec<Lies>,
}

/// Lays out the pieces of a complete answer on as few sheets as are found.
pub(super) fn fewer_sheets(
    prepared: &Prepared,
    answer: &SheetAnswer,
    effort: Effort,
) -> Vec<FreeSheet> {
    let sheets = answer.sheets.iter();
    let mut best: Vec<Sheet> = sheets.map(|sheet| of_cuts(prepared, sheet)).collect();
    // Free cuts know no groups.
    let mut left = if prepared.task.groups > 0 {
        0
    } else {
        work(effort)
    };
    let mut seed = prepared.seed;
    while best.len() > prepared.bound && left > 0 {
        let mut fewer = best.clone();
        let cost = |sheet: &Sheet| prepared.task.sizes[sheet.size].cost as f64;
        let emptiest = (0..fewer.len()).min_by(|&a, &b| {
            let share = |index: usize| fewer[index].used as f64 / cost(&fewer[index]);
            share(a).total_cmp(&share(b))
        });
        let Some(emptiest) = emptiest else { break };
        let out = fewer.remove(emptiest).lying.into_iter();
        let out = out.map(|piece| piece.kind).collect();
        let mut search = Search::new(&prepared.task, fewer, out, seed);
        left -= search.run(left.min(ROUND)).clamp(1, left);
        seed = seed.wrapping_add(1);
        if search.out.is_empty() {
            best = search.sheets;
        }
    }
    best.iter().map(|sheet| on_sheet(prepared, sheet)).collect()
}

/// How much is done, in places for a piece that are looked at.
fn work(effort: Effort) -> u64 {
    match effort {
        Effort::Quick => 4_000_000,
        Effort::Good => 100_000_000,
        Effort::Best => 1_500_000_000,
    }
}

/// A sheet of straight cuts with its pieces grown by the kerf, its lower left corner without trims at 0,0.
fn of_cuts(prepared: &Prepared, cuts: &CutSheet) -> Sheet {
    let known = |of: &[usize], number: usize| of.iter().position(|&other| other == number);
    let size = known(&prepared.sizes, cuts.size).unwrap_or(0);
    let (width, height) = (
        prepared.task.sizes[size].width,
        prepared.task.sizes[size].height,
    );
    let mut sheet = Sheet::new(size, width, height);
    for (at, piece) in cuts.pieces() {
        let Some(kind) = known(&prepared.kinds, piece.kind) else {
            continue;
        };
        let item = &prepared.task.items[kind];
        let (width, height) = if piece.turned {
            (item.height, item.width)
        } else {
            (item.width, item.height)
        };
        let at = Rectangle {
            x: (at.x - cuts.room.x) as i32,
            y: (at.y - cuts.room.y) as i32,
            width,
            height,
        };
        sheet.used += at.area();
        sheet.lying.push(Lying {
            at,
            kind: kind as u32,
            turned: piece.turned,
        });
    }
    sheet
}

fn on_sheet(prepared: &Prepared, sheet: &Sheet) -> FreeSheet {
    let size = prepared.sizes[sheet.size];
    let trims = prepared.problem.sizes[size].trims;
    let lies = |piece: &Lying| {
        let corner = (
            trims.left + Micrometres::from(piece.at.x),
            trims.bottom + Micrometres::from(piece.at.y),
        );
        (prepared.kinds[piece.kind as usize], piece.turned, corner)
    };
    FreeSheet {
        size,
        pieces: sheet.lying.iter().map(lies).collect(),
    }
}
