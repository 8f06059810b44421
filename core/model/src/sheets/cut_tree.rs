//! A sheet taken apart by straight cuts from edge to edge.
//!
//! A rectangle is a piece, a rest, or split into rectangles by parallel cuts. Positions are not stored: the parts of a
//! split follow one another from the left or from the bottom with one kerf between each two, so whatever the tree says
//! can be cut. Where less than a kerf is left behind the last part, the last cut runs partly off the edge.

use serde::Serialize;

use super::micrometres::Micrometres;

/// Which way a cut runs on the sheet, whose grain runs upward.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CutDirection {
    /// Upward, along the grain; measured from the left.
    Along,
    /// From side to side, across the grain; measured from the bottom.
    Across,
}

impl CutDirection {
    /// The other one.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            CutDirection::Along => CutDirection::Across,
            CutDirection::Across => CutDirection::Along,
        }
    }
}

/// A rectangle on a sheet, in micrometres from the sheet's lower left corner before any trimming.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct CutRectangle {
    /// Its left side.
    pub x: Micrometres,
    /// Its lower side.
    pub y: Micrometres,
    /// Across.
    pub width: Micrometres,
    /// Upward.
    pub height: Micrometres,
}

impl CutRectangle {
    /// What cuts of a direction divide: the width where they run upward.
    pub fn extent(&self, direction: CutDirection) -> Micrometres {
        match direction {
            CutDirection::Along => self.width,
            CutDirection::Across => self.height,
        }
    }

    /// How long a cut of a direction through it is.
    pub fn length(&self, direction: CutDirection) -> Micrometres {
        self.extent(direction.other())
    }

    /// The band of it that begins so far from its left or lower side.
    #[must_use]
    pub fn band(&self, direction: CutDirection, from: Micrometres, extent: Micrometres) -> Self {
        match direction {
            CutDirection::Along => Self {
                x: self.x + from,
                width: extent,
                ..*self
            },
            CutDirection::Across => Self {
                y: self.y + from,
                height: extent,
                ..*self
            },
        }
    }
}

/// One copy of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CutPiece {
    /// Number of its kind in the problem, from 0.
    pub kind: usize,
    /// Which copy it is, from 1.
    pub copy: u32,
    /// Whether it lies turned by a quarter against what the problem says.
    pub turned: bool,
}

/// A rectangle and what becomes of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutNode {
    /// Across.
    pub width: Micrometres,
    /// Upward.
    pub height: Micrometres,
    /// What becomes of it.
    pub content: CutContent,
}

/// What becomes of a rectangle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CutContent {
    /// It is a piece.
    Piece(CutPiece),
    /// It is a rest that is worth keeping; numbered from 1 on each sheet.
    Offcut(u32),
    /// It is waste.
    Waste,
    /// It is cut up.
    Split(Split),
}

/// Parallel cuts through a rectangle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Split {
    /// Which way they run.
    pub direction: CutDirection,
    /// What lies between them, from the left or from the bottom, in the order in which it is cut off.
    pub parts: Vec<CutNode>,
}

impl CutNode {
    /// What cuts of a direction divide.
    pub fn extent(&self, direction: CutDirection) -> Micrometres {
        match direction {
            CutDirection::Along => self.width,
            CutDirection::Across => self.height,
        }
    }
}

/// A sheet that is cut up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutSheet {
    /// Number of its size in the problem, from 0.
    pub size: usize,
    /// What its cuts take away.
    pub kerf: Micrometres,
    /// Where the root lies once the factory edges are off.
    pub room: CutRectangle,
    /// What becomes of the room.
    pub root: CutNode,
}

impl CutSheet {
    /// Every rectangle that is cut no further, with its place on the sheet, in the order of the tree.
    pub fn leaves(&self) -> Vec<(CutRectangle, &CutContent)> {
        let mut leaves = Vec::new();
        collect(&self.root, self.room, self.kerf, &mut leaves);
        leaves
    }

    /// Every piece with its place on the sheet, in the order of the tree.
    pub fn pieces(&self) -> Vec<(CutRectangle, CutPiece)> {
        let piece = |(at, content): (CutRectangle, &CutContent)| match content {
            CutContent::Piece(piece) => Some((at, *piece)),
            _ => None,
        };
        self.leaves().into_iter().filter_map(piece).collect()
    }

    /// Every rest that is kept, with its number and place on the sheet.
    pub fn offcuts(&self) -> Vec<(CutRectangle, u32)> {
        let offcut = |(at, content): (CutRectangle, &CutContent)| match content {
            CutContent::Offcut(number) => Some((at, *number)),
            _ => None,
        };
        self.leaves().into_iter().filter_map(offcut).collect()
    }
}

fn collect<'a>(
    node: &'a CutNode,
    at: CutRectangle,
    kerf: Micrometres,
    leaves: &mut Vec<(CutRectangle, &'a CutContent)>,
) {
    let CutContent::Split(split) = &node.content else {
        leaves.push((at, &node.content));
        return;
    };
    let mut from = 0;
    for part in &split.parts {
        let extent = part.extent(split.direction);
        collect(part, at.band(split.direction, from, extent), kerf, leaves);
        from += extent + kerf;
    }
}

/// Sheets that are cut up, and what is known of their number.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SheetAnswer {
    /// The sheets, in the order in which they are to be cut.
    pub sheets: Vec<CutSheet>,
    /// Pieces for which there is no sheet: number of the kind, and how many copies.
    pub left: Vec<(usize, u32)>,
    /// No layout needs fewer sheets than this, however it is cut; of several sizes, in those of the largest one.
    pub bound: usize,
    /// Whether the sheets are proved to be the least: in number where there is one size, in cost where there are several.
    pub proved: bool,
}
