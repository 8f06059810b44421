//! Parts on sheets as plain data: what is asked of an arrangement, and what comes of it.

use std::sync::Arc;

use crate::geom::{Bounds, LENGTH_TOLERANCE, Path, Point};
use crate::plan::{Grain, Stock, StockSheet};
use crate::workpiece::Workpiece;

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

/// The sizes of sheets in the order in which they are used up; the last one goes on without end.
pub fn sizes(stock: &Stock, settings: &Settings) -> Vec<StockSheet> {
    let (width, height) = match settings.bed {
        None if !stock.sheets.is_empty() => return stock.sheets.clone(),
        None => settings.fallback,
        Some(bed) => bed,
    };
    let count = 0;
    vec![StockSheet {
        width,
        height,
        count,
    }]
}

/// The turns that the grain of a part allows, in quarters: the grain of a sheet runs upward.
pub fn turns(grain: Grain) -> &'static [u8] {
    match grain {
        Grain::Height => &[0, 2],
        Grain::Width => &[1, 3],
        Grain::None => &[0, 1, 2, 3],
    }
}

/// Where outlines may lie on a sheet.
pub fn usable(sheet: StockSheet, settings: &Settings) -> Bounds {
    Bounds::of_size(sheet.width, sheet.height).grown(-settings.margin)
}

/// Whether a part fits a sheet of its stock in some turn that its grain allows.
pub fn fits_some_sheet(workpiece: &Workpiece, settings: &Settings) -> bool {
    sizes(&workpiece.part.stock, settings)
        .into_iter()
        .any(|sheet| {
            let room = usable(sheet, settings);
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
