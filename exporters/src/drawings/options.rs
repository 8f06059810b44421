//! What the user can choose about drawings.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::drawing::Tint;
use crate::drawing::measure::PaperUnits;
use crate::pdf::Paper;

/// Paper of drawings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SheetPaper {
    /// A4 for a plan in millimetres, Letter for one in inches.
    #[default]
    Plan,
    /// ISO 216: 210 x 297 mm.
    A4,
    /// ISO 216: 297 x 420 mm.
    A3,
    /// 8.5 x 11 in.
    Letter,
    /// 11 x 17 in.
    Tabloid,
}

impl SheetPaper {
    /// The paper of a plan, and whether its sheets lie across: the large ones do, as drawings are filed and hung.
    pub(super) fn chosen(self, inches: bool) -> (Paper, bool) {
        match self {
            SheetPaper::Plan if inches => (Paper::Letter, false),
            SheetPaper::Plan | SheetPaper::A4 => (Paper::A4, false),
            SheetPaper::Letter => (Paper::Letter, false),
            SheetPaper::A3 => (Paper::A3, true),
            SheetPaper::Tabloid => (Paper::Tabloid, true),
        }
    }
}

/// What can be chosen of drawings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct PdfDrawingsOptions {
    /// Paper to print on.
    pub paper: SheetPaper,
    /// Units of the dimensions. `plan` is the plan's own: millimetres, or inches and fractions.
    pub units: PaperUnits,
    /// Fractions of an inch go down to one over this: 8, 16, 32 or 64.
    #[schemars(range(min = 8, max = 64))]
    pub fractions: u32,
    /// Whether hidden edges are drawn, thin and dashed.
    pub hidden: bool,
    /// Who owns the drawing, for the title block.
    pub owner: String,
    /// Who made the drawing, for the title block.
    pub creator: String,
    /// Who approves it, for the title block.
    pub approver: String,
    /// Inks: greys, or a tint for each material; lines are always black.
    pub inks: Tint,
}

impl Default for PdfDrawingsOptions {
    fn default() -> Self {
        Self {
            paper: SheetPaper::Plan,
            units: PaperUnits::Plan,
            fractions: 64,
            hidden: false,
            owner: String::new(),
            creator: String::new(),
            approver: String::new(),
            inks: Tint::Grey,
        }
    }
}
