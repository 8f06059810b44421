//! What the user can choose about drawings.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::drawing::Tint;
use crate::drawing::measure::PaperUnits;

/// What can be chosen of the drawings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct SvgDrillingOptions {
    /// What the file is for: a drawing to look at and plot, or a hard template to be cut from sheet, which has contours
    /// and drill holes only: no words, transforms, crosses, areas or check line.
    pub variant: Variant,
    /// Diameter of every drill hole of a hard template, in millimetres, for a guide bush or a pencil; 0 leaves each hole
    /// its own.
    #[schemars(range(min = 0.0, max = 60.0))]
    pub guide: f64,
    /// Free room around the part, in millimetres.
    #[schemars(range(min = 0.0, max = 200.0))]
    pub margin: f64,
    /// Whether words are written: labels, edge names, grain and title. Without them the file holds paths and circles
    /// only, and no transform.
    pub labels: bool,
    /// Whether a line of 100 mm is drawn under the part to measure a print by.
    pub check_line: bool,
    /// Whether a group of dimensions is added: ordinates below and to the left, from the edges that templates hook on.
    pub dimensions: bool,
    /// Units of the numbers. `plan` is the plan's own: millimetres, or inches and fractions.
    pub units: PaperUnits,
    /// Fractions of an inch go down to one over this: 8, 16, 32 or 64.
    #[schemars(range(min = 8, max = 64))]
    pub fractions: u32,
    /// Inks: black and greys, or colour for areas and for words on areas and hand work; lines are always black.
    pub inks: Tint,
}

impl Default for SvgDrillingOptions {
    fn default() -> Self {
        Self {
            variant: Variant::Drawing,
            guide: 0.0,
            margin: 10.0,
            labels: true,
            check_line: true,
            dimensions: false,
            units: PaperUnits::Plan,
            fractions: 64,
            inks: Tint::Grey,
        }
    }
}

/// What a drawing is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Variant {
    /// To look at and plot.
    #[default]
    Drawing,
    /// To be cut from sheet as a template.
    HardTemplate,
}
