//! What the user can choose about drawings of parts.

use jigless_model::units::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::options::{PdfDrawingsOptions, SheetPaper};
use crate::drawing::measure::PaperUnits;
use crate::pdf::PageFormat;

/// What can be chosen of the drawings of parts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct PartDrawingOptions {
    /// Paper that they are drawn for.
    pub paper: SheetPaper,
    /// Units of the dimensions. `plan` is the plan's own: millimetres, or inches and fractions.
    pub units: PaperUnits,
    /// Fractions of an inch go down to one over this: 8, 16, 32 or 64.
    #[schemars(range(min = 8, max = 64))]
    pub fractions: u32,
    /// Who owns the drawing, for the title block.
    pub owner: String,
    /// Who made the drawing, for the title block.
    pub creator: String,
    /// Who approves it, for the title block.
    pub approver: String,
}

impl Default for PartDrawingOptions {
    fn default() -> Self {
        Self {
            paper: SheetPaper::Plan,
            units: PaperUnits::Plan,
            fractions: 64,
            owner: String::new(),
            creator: String::new(),
            approver: String::new(),
        }
    }
}

impl PartDrawingOptions {
    /// The page; the large papers lie across.
    pub(super) fn format(&self, unit: Unit) -> PageFormat {
        let (paper, across) = self.paper.chosen(unit == Unit::Inch);
        let (width, height) = paper.size().unwrap_or((210.0, 297.0));
        PageFormat {
            size: if across {
                (height, width)
            } else {
                (width, height)
            },
            scale: (1.0, 1.0),
            blank: (0.0, 0.0),
        }
    }

    /// What the title block asks for.
    pub(super) fn of_block(&self) -> PdfDrawingsOptions {
        PdfDrawingsOptions {
            owner: self.owner.clone(),
            creator: self.creator.clone(),
            approver: self.approver.clone(),
            ..PdfDrawingsOptions::default()
        }
    }
}
