//! What the user can choose of a booklet.

use jigless_model::units::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::document::DocumentOptions;

/// Paper of a booklet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BookletPaper {
    /// A4 for a plan in millimetres, Letter for one in inches.
    #[default]
    Plan,
    /// ISO 216: 210 x 297 mm.
    A4,
    /// 8.5 x 11 in.
    Letter,
}

impl BookletPaper {
    /// Width and height in millimetres.
    pub(super) fn size(self, unit: Unit) -> (f64, f64) {
        match (self, unit) {
            (BookletPaper::A4, _) | (BookletPaper::Plan, Unit::Millimetre) => (210.0, 297.0),
            (BookletPaper::Letter, _) | (BookletPaper::Plan, Unit::Inch) => (215.9, 279.4),
        }
    }
}

/// What can be chosen of a booklet.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct BookletOptions {
    /// Paper to print on.
    pub paper: BookletPaper,
    /// What it holds.
    #[serde(flatten)]
    pub document: DocumentOptions,
}
