//! What an arranger is handed, and what it gives back.

use jigless_model::geom::{Bounds, Path, Point};

/// A piece that is to be placed.
#[derive(Debug)]
pub struct Piece<'a> {
    /// Its outline.
    pub outline: &'a Path,
    /// The openings in it.
    pub openings: &'a [Path],
    /// Area inside the outline.
    pub area: f64,
    /// The turns that its grain allows, in quarters.
    pub turns: &'static [u8],
    /// Pieces with the same number are alike.
    pub kind: usize,
    /// Pieces with the same number must come from one sheet.
    pub group: Option<u32>,
}

/// The room on a sheet.
#[derive(Debug, Clone, Copy)]
pub struct FreeArea {
    /// Where outlines may lie.
    pub bounds: Bounds,
    /// Least distance between two outlines.
    pub spacing: f64,
}

/// Where a piece goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Position {
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
    fn fill(&self, room: FreeArea, pieces: &[&Piece]) -> Vec<Position>;
}

/// For tests: pieces of some outlines, each of a kind of its own.
#[cfg(test)]
pub(crate) fn pieces_of<'a>(outlines: &'a [Path], turns: &'static [u8]) -> Vec<Piece<'a>> {
    let pieces = outlines.iter().enumerate();
    pieces
        .map(|(kind, outline)| Piece {
            outline,
            openings: &[],
            area: outline.area(),
            turns,
            kind,
            group: None,
        })
        .collect()
}
