//! Parts on sheets: which part goes where on which sheet of its stock.
//!
//! [`arrange`] works stock by stock. It hands the pieces, large before small by one measure and then by others, to each
//! [`Arranger`] that suits them and keeps the result that needs the fewest sheets, and of those the one that leaves the
//! largest offcut of the last sheet.
//! A stronger arranger takes its place in [`ARRANGERS`]; it never has to know of plans, stock or formats.

mod boxes;
mod orders;
mod outlines;

pub use boxes::Boxes;
pub use outlines::Outlines;

use std::sync::Arc;

use crate::geom::{Bounds, LENGTH_TOLERANCE, Path, Point};
use crate::plan::{Grain, Sheet, Stock};
use crate::workpiece::Workpiece;

/// The arrangers that are tried, in this order; of equals the first one stays.
pub static ARRANGERS: &[&dyn Arranger] = &[&Boxes, &Outlines];

/// What is asked of an arrangement.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Width and height in millimetres of what every sheet is taken to be, whatever the stock says.
    pub bed: Option<(f64, f64)>,
    /// Width and height in millimetres where neither `bed` nor the stock says anything.
    pub fallback: (f64, f64),
    /// Least distance between two parts, in millimetres.
    pub spacing: f64,
    /// Least distance of a part from the edge of the sheet, in millimetres.
    pub margin: f64,
    /// Only the boxes around parts count, so that neighbours share their edges.
    pub boxes_only: bool,
}

/// All sheets, in the order of the plan's stock.
#[derive(Debug, Clone, Default)]
pub struct Arrangement {
    /// The sheets.
    pub sheets: Vec<ArrangedSheet>,
    /// Numbers of workpieces, in the order of the plan, that are larger than any sheet of their stock, or than any that
    /// is left.
    pub too_large: Vec<usize>,
}

/// A sheet with its parts.
#[derive(Debug, Clone)]
pub struct ArrangedSheet {
    /// What it is made of.
    pub stock: Arc<Stock>,
    /// Number among the sheets of its stock, from 1.
    pub number: usize,
    /// Size to the right, in millimetres.
    pub width: f64,
    /// Size upward, in millimetres. The grain runs this way.
    pub height: f64,
    /// Whether the plan says that so many sheets are at hand.
    pub at_hand: bool,
    /// The parts on it.
    pub placed: Vec<Placed>,
    /// Area of the parts on it, in square millimetres.
    pub used: f64,
}

impl ArrangedSheet {
    /// The share of the sheet that no part takes, from 0 to 1.
    pub fn waste(&self) -> f64 {
        1.0 - self.used / (self.width * self.height)
    }
}

/// Where a part lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// Number of its workpiece among those that were arranged, from 0.
    pub workpiece: usize,
    /// Which copy of the part it is, from 1.
    pub copy: u32,
    /// Quarters of a full turn, counter-clockwise about the part's own 0,0.
    pub quarters: u8,
    /// Where the part's own 0,0 comes to lie after the turn.
    pub at: Point,
}

impl Placed {
    /// A point of the part, on the sheet.
    pub fn point(&self, of_part: Point) -> Point {
        of_part.turned(self.quarters) + self.at
    }

    /// A path of the part, on the sheet.
    pub fn path(&self, of_part: &Path) -> Path {
        of_part.turned(self.quarters).moved(self.at)
    }
}

/// A piece that is to be placed.
#[derive(Debug)]
pub struct Piece<'a> {
    /// Its outline.
    pub outline: &'a Path,
    /// Area inside the outline.
    pub area: f64,
    /// The turns that its grain allows, in quarters.
    pub turns: &'static [u8],
    /// Pieces with the same number are alike.
    pub kind: usize,
}

/// For tests: pieces of some outlines, each of a kind of its own.
#[cfg(test)]
fn pieces_of<'a>(outlines: &'a [Path], turns: &'static [u8]) -> Vec<Piece<'a>> {
    let pieces = outlines.iter().enumerate();
    pieces
        .map(|(kind, outline)| Piece {
            outline,
            area: outline.area(),
            turns,
            kind,
        })
        .collect()
}

/// The room on a sheet.
#[derive(Debug, Clone, Copy)]
pub struct Room {
    /// Where outlines may lie.
    pub bounds: Bounds,
    /// Least distance between two outlines.
    pub spacing: f64,
}

/// Where a piece goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Number of the piece.
    pub piece: usize,
    /// Quarters of a full turn.
    pub quarters: u8,
    /// Where its 0,0 comes to lie after the turn.
    pub at: Point,
}

/// A way to arrange pieces.
pub trait Arranger: std::fmt::Debug + Sync {
    /// Whether it can gain anything on these pieces.
    fn suits(&self, pieces: &[Piece]) -> bool;

    /// Places pieces on one empty sheet, as many as it can. Outlines stay in the room and keep the spacing. The same
    /// pieces give the same places.
    fn fill(&self, room: Room, pieces: &[&Piece]) -> Vec<Place>;
}

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
        arrange_stock(workpieces, stock, settings, &mut arrangement);
    }
    arrangement.too_large.sort_unstable();
    arrangement
}

/// The sizes of sheets in the order in which they are used up; the last one goes on without end.
fn sizes(stock: &Stock, settings: &Settings) -> Vec<Sheet> {
    let (width, height) = match settings.bed {
        None if !stock.sheets.is_empty() => return stock.sheets.clone(),
        None => settings.fallback,
        Some(bed) => bed,
    };
    let count = 0;
    vec![Sheet {
        width,
        height,
        count,
    }]
}

fn room(sheet: Sheet, settings: &Settings) -> Room {
    Room {
        bounds: Bounds::of_size(sheet.width, sheet.height).grown(-settings.margin),
        spacing: settings.spacing,
    }
}

/// Whether a part fits a sheet of its stock in some turn that its grain allows.
pub fn fits_some_sheet(workpiece: &Workpiece, settings: &Settings) -> bool {
    sizes(&workpiece.part.stock, settings)
        .into_iter()
        .any(|sheet| {
            let room = room(sheet, settings).bounds;
            let turns = turns(workpiece.part.grain);
            turns.iter().any(|&quarters| {
                let size = workpiece.outline().turned(quarters).bounds();
                size.is_some_and(|size| {
                    size.width() <= room.width() + LENGTH_TOLERANCE
                        && size.height() <= room.height() + LENGTH_TOLERANCE
                })
            })
        })
}

/// The grain of a sheet runs upward.
fn turns(grain: Grain) -> &'static [u8] {
    match grain {
        Grain::Height => &[0, 2],
        Grain::Width => &[1, 3],
        Grain::None => &[0, 1, 2, 3],
    }
}

fn arrange_stock(
    workpieces: &[Workpiece],
    stock: &Arc<Stock>,
    settings: &Settings,
    arrangement: &mut Arrangement,
) {
    let mut pieces = Vec::new();
    let mut copies = Vec::new();
    for (index, workpiece) in workpieces.iter().enumerate() {
        if workpiece.part.stock.id != stock.id {
            continue;
        }
        if !fits_some_sheet(workpiece, settings) {
            arrangement.too_large.push(index);
            continue;
        }
        for copy in 1..=workpiece.part.count {
            copies.push((index, copy));
            pieces.push(Piece {
                outline: workpiece.outline(),
                area: workpiece.outline().area(),
                turns: turns(workpiece.part.grain),
                kind: index,
            });
        }
    }
    let suitable = ARRANGERS.iter().enumerate().filter(|(index, arranger)| {
        *index == 0 || (!settings.boxes_only && arranger.suits(&pieces))
    });
    let orders = orders::of(&pieces);
    // Of equals the first one stays.
    let best = suitable
        .flat_map(|(_, arranger)| orders.iter().map(move |order| (*arranger, order)))
        .map(|(arranger, order)| fill_sheets(arranger, &pieces, order, stock, settings))
        .min_by(|a, b| {
            let counts = (a.left.len(), a.sheets.len()).cmp(&(b.left.len(), b.sheets.len()));
            counts.then(b.offcut.total_cmp(&a.offcut))
        });
    let Some(best) = best else { return };
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
        });
    }
}

/// What one arranger makes of all pieces.
struct Filled {
    sheets: Vec<(Sheet, bool, Vec<Place>)>,
    /// Area of the largest rest of the last sheet that one straight cut frees, in square millimetres.
    offcut: f64,
    /// Pieces that only a size of sheet could hold of which there are no more.
    left: Vec<usize>,
}

fn fill_sheets(
    arranger: &dyn Arranger,
    pieces: &[Piece],
    order: &[usize],
    stock: &Stock,
    settings: &Settings,
) -> Filled {
    let mut left: Vec<usize> = order.to_vec();
    let sizes = sizes(stock, settings);
    let known = settings.bed.is_none() && !stock.sheets.is_empty();
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
