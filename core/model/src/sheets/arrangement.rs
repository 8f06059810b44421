//! What exporters ask for and are handed: the parts of a plan on sheets and boards.

use std::sync::Arc;

use super::boards::{BoardAnswer, BoardProblem};
use super::cut_list::{CutStep, cut_list};
use super::cut_tree::{CutSheet, SheetAnswer};
use super::micrometres::millimetres;
use super::problem::{Effort, SheetOrigin, SheetProblem};

use crate::geom::{Bounds, LENGTH_TOLERANCE, Path, Point};
use crate::plan::{Grain, Stock, StockSheet};
use crate::workpiece::Workpiece;

/// What is asked of an arrangement.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Width and height in millimetres of the bed that sheets are worked on: no more of a sheet than fits it is used.
    pub bed: Option<(f64, f64)>,
    /// Least distance between two parts, in millimetres.
    pub spacing: f64,
    /// Least distance of a part from the edge of the sheet, in millimetres.
    pub margin: f64,
    /// Only the boxes around parts count, so that neighbours share their edges.
    pub boxes_only: bool,
    /// How long a layout is looked for.
    pub effort: Effort,
    /// Straight cuts alone, by a saw; `None` where a machine cuts along outlines. `spacing` and `margin` then count for
    /// nothing: kerf and trims do.
    pub saw: Option<SawSettings>,
}

/// What is asked of an arrangement by straight cuts. Lengths are in millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct SawSettings {
    /// What a cut takes away.
    pub kerf: f64,
    /// What is lost at each factory edge of a sheet, kerf included; nothing where they stay.
    pub trim: f64,
    /// What is lost at each end of a board, kerf included.
    pub end_trim: f64,
    /// What is left on at each edge of parts whose outline is cut afterwards.
    pub oversize: f64,
    /// The longest side that a piece may have after the first cuts, for one person.
    pub longest: Option<f64>,
    /// The greatest weight that it may have, in kilograms.
    pub heaviest: Option<f64>,
    /// From the good side of the blade to the edge of the saw's base that runs along a guide, across the blade.
    pub guide_offset: Option<f64>,
    /// A strip that is narrower is cut from a wide piece and never from a narrow one.
    pub narrow: f64,
    /// The least side of a rest that is kept.
    pub keep: f64,
    /// How often the direction of cutting may change, the first direction counted.
    pub stages: Option<u32>,
}

/// All sheets and boards, in the order of the plan's stock.
#[derive(Debug, Clone, Default)]
pub struct Arrangement {
    /// The sheets.
    pub sheets: Vec<ArrangedSheet>,
    /// What is known of each stock that was laid out by straight cuts, in the order of the plan.
    pub stocks: Vec<StockLayout>,
    /// Ids of stocks that list neither sheets nor boards, so that nothing of them can be laid out by straight cuts.
    pub without_sizes: Vec<String>,
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
    /// Where straight cuts take it apart: its place in [`Arrangement::stocks`], and its number among the sheets of that
    /// answer, from 0.
    pub cuts: Option<(usize, usize)>,
}

/// A stock that was laid out by straight cuts: the problem, and the answer. Kinds of pieces stand for workpieces.
#[derive(Debug, Clone)]
pub struct StockLayout {
    /// What it is made of.
    pub stock: Arc<Stock>,
    /// The workpiece of each kind of piece, by its number among those that were arranged, from 0.
    pub workpieces: Vec<usize>,
    /// What was laid out.
    pub goods: StockGoods,
}

/// A rest of a board that is shorter is not kept, in millimetres. Common practice, no source.
const LEAST_REST: f64 = 100.0;

/// What a stock is sold as, and how it was laid out.
#[derive(Debug, Clone)]
pub enum StockGoods {
    /// Sheets.
    Sheets(SheetProblem, SheetAnswer),
    /// Boards that are cut to length.
    Boards(BoardProblem, BoardAnswer),
}

impl StockLayout {
    /// Length and width in millimetres of a size of its problem.
    pub fn size(&self, size: usize) -> (f64, f64) {
        let (length, width) = match &self.goods {
            StockGoods::Sheets(problem, _) => {
                (problem.sizes[size].height, problem.sizes[size].width)
            }
            StockGoods::Boards(problem, _) => (problem.lengths[size].length, problem.width),
        };
        (millimetres(length), millimetres(width))
    }

    /// What one sheet or board of a size costs, if the plan says.
    pub fn price(&self, size: usize) -> Option<f64> {
        match &self.goods {
            StockGoods::Sheets(problem, _) => problem.sizes[size].price,
            StockGoods::Boards(problem, _) => problem.lengths[size].price,
        }
    }

    /// Length and width in millimetres of each rest that is kept, in the order in which they are cut.
    pub fn rests(&self) -> Vec<(f64, f64)> {
        match &self.goods {
            StockGoods::Sheets(_, answer) => {
                let offcuts = answer.sheets.iter().flat_map(CutSheet::offcuts);
                let sizes = offcuts.map(|(at, _)| (millimetres(at.height), millimetres(at.width)));
                sizes.collect()
            }
            StockGoods::Boards(problem, answer) => {
                let rests = answer.boards.iter().map(|board| millimetres(board.rest));
                let kept = rests.filter(|rest| *rest >= LEAST_REST);
                kept.map(|rest| (rest, millimetres(problem.width)))
                    .collect()
            }
        }
    }

    /// The sheet problem and its answer, where it is sold in sheets.
    pub fn sheets(&self) -> Option<(&SheetProblem, &SheetAnswer)> {
        match &self.goods {
            StockGoods::Sheets(problem, answer) => Some((problem, answer)),
            StockGoods::Boards(..) => None,
        }
    }

    /// The board problem and its answer, where it is sold in lengths.
    pub fn boards(&self) -> Option<(&BoardProblem, &BoardAnswer)> {
        match &self.goods {
            StockGoods::Sheets(..) => None,
            StockGoods::Boards(problem, answer) => Some((problem, answer)),
        }
    }

    /// The cuts that take one of its sheets apart, in the order of work.
    pub fn cut_list(&self, sheet: &CutSheet) -> Vec<CutStep> {
        let Some((problem, _)) = self.sheets() else {
            return Vec::new();
        };
        cut_list(sheet, &problem.sizes[sheet.size], &problem.saw)
    }

    /// How many sheets or boards of each size are taken from each origin: number of the size in the problem, and how
    /// many; sizes of which none is taken are left out.
    pub fn taken(&self) -> Vec<(usize, SheetOrigin, u32)> {
        let (origins, used): (Vec<SheetOrigin>, Vec<usize>) = match &self.goods {
            StockGoods::Sheets(problem, answer) => (
                problem.sizes.iter().map(|size| size.origin).collect(),
                answer.sheets.iter().map(|sheet| sheet.size).collect(),
            ),
            StockGoods::Boards(problem, answer) => (
                problem.lengths.iter().map(|length| length.origin).collect(),
                answer.boards.iter().map(|board| board.length).collect(),
            ),
        };
        let count = |size: usize| used.iter().filter(|of| **of == size).count() as u32;
        let taken = origins.into_iter().enumerate();
        taken
            .map(|(size, origin)| (size, origin, count(size)))
            .filter(|(.., count)| *count > 0)
            .collect()
    }
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

/// The sizes of sheets in the order in which they are used up; the last one goes on without end. None where neither the
/// plan lists one nor a bed is given.
///
/// On a bed lies what is left of a sheet that is larger: both sizes hold. It lies upright or turned, whichever leaves
/// more, and as many blanks are cut from one sheet as go side by side.
pub fn sizes(stock: &Stock, settings: &Settings) -> Vec<StockSheet> {
    let Some(bed) = settings.bed else {
        return stock.sheets.clone();
    };
    if stock.sheets.is_empty() {
        return vec![StockSheet {
            width: bed.0,
            height: bed.1,
            count: 0,
            price: None,
        }];
    }
    stock.sheets.iter().map(|sheet| blank(sheet, bed)).collect()
}

/// What of a sheet lies on a bed, and how many such blanks one sheet gives in all.
fn blank(sheet: &StockSheet, (across, along): (f64, f64)) -> StockSheet {
    let upright = (sheet.width.min(across), sheet.height.min(along));
    let turned = (sheet.width.min(along), sheet.height.min(across));
    let area = |(width, height): (f64, f64)| width * height;
    let (width, height) = if area(turned) > area(upright) + LENGTH_TOLERANCE {
        turned
    } else {
        upright
    };
    let times = |of: f64, part: f64| (of / part + LENGTH_TOLERANCE).floor().max(1.0) as u32;
    let blanks = times(sheet.width, width) * times(sheet.height, height);
    StockSheet {
        width,
        height,
        count: sheet.count.saturating_mul(blanks),
        price: sheet.price,
    }
}

/// How a sheet lies on a bed: `Some(false)` upright, `Some(true)` turned by a quarter, `None` where it fits neither way.
pub fn lies_turned(size: (f64, f64), bed: (f64, f64)) -> Option<bool> {
    let fits = |(width, height): (f64, f64)| {
        width <= bed.0 + LENGTH_TOLERANCE && height <= bed.1 + LENGTH_TOLERANCE
    };
    if fits(size) {
        Some(false)
    } else if fits((size.1, size.0)) {
        Some(true)
    } else {
        None
    }
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
