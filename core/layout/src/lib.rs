//! Parts on sheets: which part goes where on which sheet of its stock.
//!
//! [`arrange`] works stock by stock. It hands the pieces, large before small by one measure and then by others, to each
//! [`Arranger`] that suits them and keeps the result that needs the fewest sheets, and of those the one that leaves the
//! largest offcut of the last sheet.
//! A stronger arranger takes its place in [`ARRANGERS`]; it never has to know of plans, stock or formats.

mod boards;
mod boxes;
mod by_straight_cuts;
mod costs;
mod free;
mod groups;
mod late_acceptance;
mod nest;
mod orders;
mod outlines;
mod piece;
mod saw;
mod straight;
mod undo;

pub use boards::cut_boards;
pub use boxes::Boxes;
pub use outlines::Outlines;
pub use piece::{Arranger, FreeArea, Piece, Position};
pub use straight::cut_sheets;

use std::sync::Arc;

use jigless_model::geom::{Path, Point};
use jigless_model::plan::{Stock, StockSheet};
use jigless_model::sheets::{
    ArrangedSheet, Arrangement, Placed, Settings, fits_some_sheet, sizes, turns, usable,
};
use jigless_model::workpiece::Workpiece;

/// The arrangers that are tried, in this order; of equals the first one stays.
pub static ARRANGERS: &[&dyn Arranger] = &[&Boxes, &Outlines];

/// Arranges every copy of every workpiece.
pub fn arrange(workpieces: &[Workpiece], settings: &Settings) -> Arrangement {
    let mut stocks: Vec<&Arc<Stock>> = Vec::new();
    for workpiece in workpieces {
        let stock = &workpiece.part.stock;
        if !stocks.iter().any(|other| other.id == stock.id) {
            stocks.push(stock);
        }
    }
    let mut arrangement = Arrangement::default();
    for stock in stocks {
        match &settings.saw {
            Some(saw) => saw::lay_out(workpieces, stock, saw, settings.effort, &mut arrangement),
            None => arrange_stock(workpieces, stock, settings, &mut arrangement),
        }
    }
    arrangement.too_large.sort_unstable();
    arrangement.too_large.dedup();
    arrangement
}

fn room(sheet: StockSheet, settings: &Settings) -> FreeArea {
    FreeArea {
        bounds: usable(sheet, settings),
        spacing: settings.spacing,
    }
}

fn arrange_stock(
    workpieces: &[Workpiece],
    stock: &Arc<Stock>,
    settings: &Settings,
    arrangement: &mut Arrangement,
) {
    let numbers: Vec<usize> = (0..workpieces.len())
        .filter(|&index| workpieces[index].part.stock.id == stock.id)
        .collect();
    let openings: Vec<Vec<Path>> = numbers
        .iter()
        .map(|&index| workpieces[index].region().inner)
        .collect();
    let mut pieces = Vec::new();
    let mut copies = Vec::new();
    let groups = groups::of(workpieces, &numbers);
    for (slot, (&index, openings)) in numbers.iter().zip(&openings).enumerate() {
        let workpiece = &workpieces[index];
        if !fits_some_sheet(workpiece, settings) {
            arrangement.too_large.push(index);
            continue;
        }
        for copy in 1..=workpiece.part.count {
            copies.push((index, copy));
            pieces.push(Piece {
                outline: workpiece.outline(),
                openings,
                area: workpiece.outline().area(),
                turns: turns(workpiece.part.grain),
                kind: index,
                group: groups[slot],
            });
        }
    }
    let Some(best) = arrange_pieces(&pieces, &sizes(stock, settings), settings) else {
        return;
    };
    for index in best.left.iter().map(|&i| copies[i].0) {
        if !arrangement.too_large.contains(&index) {
            arrangement.too_large.push(index);
        }
    }
    for (number, (sheet, at_hand, places)) in best.sheets.into_iter().enumerate() {
        let used = places
            .iter()
            .map(|place| workpieces[copies[place.piece].0].region().area())
            .sum();
        let placed = places
            .into_iter()
            .map(|place| Placed {
                workpiece: copies[place.piece].0,
                copy: copies[place.piece].1,
                quarters: place.quarters,
                at: place.at,
            })
            .collect();
        arrangement.sheets.push(ArrangedSheet {
            stock: Arc::clone(stock),
            number: number + 1,
            width: sheet.width,
            height: sheet.height,
            at_hand,
            placed,
            used,
            cuts: None,
        });
    }
}

/// Sheets with pieces on them: the best of what the arrangers make, improved. Sizes are used up in their order, and the
/// largest one is bought on; pieces that are alike follow one another. `None` where there are none.
pub fn arrange_pieces(
    pieces: &[Piece],
    sizes: &[StockSheet],
    settings: &Settings,
) -> Option<Filled> {
    let suitable = ARRANGERS.iter().enumerate().filter(|(index, arranger)| {
        *index == 0 || (!settings.boxes_only && arranger.suits(pieces))
    });
    let orders = orders::of(pieces);
    // Of equals the first one stays.
    let mut best = suitable
        .flat_map(|(_, arranger)| orders.iter().map(move |order| (*arranger, order)))
        .map(|(arranger, order)| fill_sheets(arranger, pieces, order, sizes, settings))
        .min_by(|a, b| {
            let counts = (a.left.len(), a.sheets.len()).cmp(&(b.left.len(), b.sheets.len()));
            counts.then(b.offcut.total_cmp(&a.offcut))
        })?;
    let outlines = ARRANGERS[1..].iter().any(|arranger| arranger.suits(pieces));
    if !best.left.is_empty() {
        return Some(best);
    }
    if pieces.iter().any(|piece| piece.group.is_some()) {
        // Which piece comes from which sheet counts before their number, and only straight cuts know groups.
        let grouped = by_straight_cuts::fewer(pieces, sizes, settings, usize::MAX);
        best.sheets = grouped.unwrap_or(best.sheets);
    } else if settings.boxes_only || !outlines {
        // Of sheets that straight cuts take apart there may be fewer, for they are looked for with more care.
        let fewer = by_straight_cuts::fewer(pieces, sizes, settings, best.sheets.len());
        best.sheets = fewer.unwrap_or(best.sheets);
    } else {
        nest::improve(pieces, &mut best.sheets, settings);
    }
    Some(best)
}

/// What one arranger makes of all pieces.
#[derive(Debug)]
pub struct Filled {
    /// Each sheet, whether it is at hand, and where pieces lie on it.
    pub sheets: Vec<(StockSheet, bool, Vec<Position>)>,
    /// Area of the largest rest of the last sheet that one straight cut frees, in square millimetres.
    offcut: f64,
    /// Pieces that only a size of sheet could hold of which there are no more.
    pub left: Vec<usize>,
}

fn fill_sheets(
    arranger: &dyn Arranger,
    pieces: &[Piece],
    order: &[usize],
    sizes: &[StockSheet],
    settings: &Settings,
) -> Filled {
    let mut left: Vec<usize> = order.to_vec();
    let known = settings.bed.is_none() && !sizes.is_empty();
    let listed = sizes
        .iter()
        .flat_map(|sheet| std::iter::repeat_n((*sheet, true), sheet.count as usize));
    // The list ends; what is needed beyond it is bought in the size that holds the most.
    let largest = sizes
        .iter()
        .copied()
        .max_by(|a, b| (a.width * a.height).total_cmp(&(b.width * b.height)));
    let further = largest.into_iter().cycle().map(|sheet| (sheet, !known));
    let mut filled = Filled {
        sheets: Vec::new(),
        offcut: 0.0,
        left: Vec::new(),
    };
    for (sheet, at_hand) in listed.chain(further) {
        if left.is_empty() {
            break;
        }
        let waiting: Vec<&Piece> = left.iter().map(|&i| &pieces[i]).collect();
        let mut places = arranger.fill(room(sheet, settings), &waiting);
        if places.is_empty() {
            // A small sheet at hand may hold nothing of what is left; the largest one always does.
            if largest == Some(sheet) {
                break;
            }
            continue;
        }
        for place in &mut places {
            place.piece = left[place.piece];
        }
        left.retain(|i| !places.iter().any(|place| place.piece == *i));
        let reach = places
            .iter()
            .filter_map(|place| {
                let turned = pieces[place.piece].outline.turned(place.quarters);
                Some(turned.bounds()?.max + place.at)
            })
            .fold(Point::default(), |a, b| {
                Point::new(a.x.max(b.x), a.y.max(b.y))
            });
        let above = sheet.width * (sheet.height - reach.y);
        let beside = sheet.height * (sheet.width - reach.x);
        // To a square millimetre, so that noise of the arithmetic decides nothing.
        filled.offcut = above.max(beside).round();
        filled.sheets.push((sheet, at_hand, places));
    }
    filled.left = left;
    filled
}
