//! Boards that are cut to length: what is asked, and what comes of it. Lengths are in whole micrometres.

use super::micrometres::Micrometres;
use super::problem::SheetOrigin;

/// Boards of one cross-section, and the pieces that are cut from them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BoardProblem {
    /// Across the boards and their pieces.
    pub width: Micrometres,
    /// The lengths that there are.
    pub lengths: Vec<BoardLength>,
    /// The pieces.
    pub pieces: Vec<BoardPiece>,
    /// What a cut takes away.
    pub kerf: Micrometres,
    /// What is cut off each end of a board before anything else, kerf included.
    pub end_trim: Micrometres,
}

/// A length of board: what is at hand, left over, or can be bought.
#[derive(Debug, Clone, PartialEq)]
pub struct BoardLength {
    /// From end to end, defects left out.
    pub length: Micrometres,
    /// How many there are; `None` where as many as are needed can be bought.
    pub count: Option<u32>,
    /// What one costs, in any currency, where that is known.
    pub price: Option<f64>,
    /// Where it comes from.
    pub origin: SheetOrigin,
}

/// Pieces that are alike.
#[derive(Debug, Clone, PartialEq)]
pub struct BoardPiece {
    /// Along the board, at its longest: mitres included.
    pub length: Micrometres,
    /// How many are needed.
    pub count: u32,
}

/// A board that is cut up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutBoard {
    /// Number of its length in the problem, from 0.
    pub length: usize,
    /// The pieces from one end on, the longest first: number of the kind, and which copy of it from 1. One kerf lies
    /// between each two.
    pub pieces: Vec<(usize, u32)>,
    /// What is left at the other end.
    pub rest: Micrometres,
}

/// Boards that are cut up, and what is known of their number.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BoardAnswer {
    /// The boards.
    pub boards: Vec<CutBoard>,
    /// Pieces for which there is no board: number of the kind, and how many copies.
    pub left: Vec<(usize, u32)>,
    /// No layout needs fewer boards than this; of several lengths, in those of the longest one.
    pub bound: usize,
    /// Whether the boards are proved to be the least: in number where there is one length, in cost where there are
    /// several.
    pub proved: bool,
}
