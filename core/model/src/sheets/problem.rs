//! What straight cuts must make: sizes of sheets, pieces, kerf, trims, limits. Lengths are in whole micrometres, and the
//! grain of a sheet runs upward.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::micrometres::Micrometres;

/// Sheets of one stock, and the pieces that are cut from them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SheetProblem {
    /// The sizes that there are; of equal cost the first one is taken.
    pub sizes: Vec<SheetSize>,
    /// The pieces.
    pub pieces: Vec<PieceKind>,
    /// What straight cuts take and may do.
    pub saw: Saw,
}

/// A size of sheet: what is at hand, left over, or can be bought.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetSize {
    /// Across, with its factory edges.
    pub width: Micrometres,
    /// Upward, with its factory edges. The grain runs this way.
    pub height: Micrometres,
    /// How many there are; `None` where as many as are needed can be bought.
    pub count: Option<u32>,
    /// What one costs, in any currency, where that is known.
    pub price: Option<f64>,
    /// Where it comes from.
    pub origin: SheetOrigin,
    /// What is cut off its factory edges before anything else.
    pub trims: Trims,
}

impl SheetSize {
    /// Width and height of what is left once the factory edges are off.
    pub fn usable(&self) -> (Micrometres, Micrometres) {
        (
            self.width - self.trims.left - self.trims.right,
            self.height - self.trims.bottom - self.trims.top,
        )
    }
}

/// Where a sheet or board comes from, in the order in which they are used up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SheetOrigin {
    /// A leftover of earlier work, used first.
    Leftover,
    /// At hand, as the plan says.
    AtHand,
    /// To be bought.
    ToBuy,
}

/// What is lost at each edge of a sheet when its factory edge is cut off, kerf included; nothing where it stays.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Trims {
    /// At the left edge.
    pub left: Micrometres,
    /// At the right edge.
    pub right: Micrometres,
    /// At the bottom edge.
    pub bottom: Micrometres,
    /// At the top edge.
    pub top: Micrometres,
}

impl Trims {
    /// The same at every edge.
    pub fn all(trim: Micrometres) -> Self {
        Self {
            left: trim,
            right: trim,
            bottom: trim,
            top: trim,
        }
    }
}

/// Pieces that are alike. Sizes are as cut, `oversize` included, and as they lie on a sheet whose grain runs upward.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceKind {
    /// Across, as cut.
    pub width: Micrometres,
    /// Upward, as cut.
    pub height: Micrometres,
    /// Whether it may lie turned by a quarter.
    pub may_turn: bool,
    /// How many are needed.
    pub count: u32,
    /// What is left on at each edge, for trimming to size later; part of the sizes above.
    pub oversize: Micrometres,
    /// Sheets with pieces of a greater number are cut first; where sheets do not suffice, such pieces are placed first.
    pub priority: i32,
    /// Pieces with the same number must come from one sheet, for a grain that runs on.
    pub group: Option<u32>,
}

/// What a saw takes and may do.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Saw {
    /// What a cut takes away.
    pub kerf: Micrometres,
    /// What one person can handle after the first cuts.
    pub handling: Handling,
    /// From the good side of the blade to the edge of the saw's base that runs along a guide, across the blade.
    pub guide_offset: Option<Micrometres>,
    /// A strip that is narrower is cut from a wide piece and never from a narrow one.
    pub narrow: Micrometres,
    /// The least side of a rest that is kept; a smaller one is waste.
    pub keep: Micrometres,
    /// How often the direction of cutting may change, the first direction counted; `None` without a limit.
    pub stages: Option<u32>,
    /// How long a layout is looked for.
    pub effort: Effort,
}

/// What one person can handle.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Handling {
    /// The longest side that a piece may have after the first cuts.
    pub longest: Option<Micrometres>,
    /// The greatest area that it may have, in square micrometres; from the heaviest weight and the stock's density.
    pub largest: Option<i64>,
}

impl Handling {
    /// Whether a piece of a size can be handled.
    pub fn allows(&self, width: Micrometres, height: Micrometres) -> bool {
        self.longest.is_none_or(|most| width.max(height) <= most)
            && self.largest.is_none_or(|most| width * height <= most)
    }
}

/// How long a layout is looked for: in steps of the search, so that every machine finds the same one.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Effort {
    /// For a first look.
    Quick,
    /// Around a second for a hundred parts.
    #[default]
    Good,
    /// As long as it gains anything: some ten seconds for a hundred parts.
    Best,
}
