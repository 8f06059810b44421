//! What the user can choose about where parts lie in a file. Lengths are in millimetres, whatever the unit of the file.

use jigless_model::diag::Findings;
use jigless_model::sheets;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::option_check::length_in_range;

/// Bed taken where neither a profile nor the options give one: 1220 by 2440, common practice, no source.
const USUAL_BED: (f64, f64) = (1220.0, 2440.0);

/// Where parts lie in a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct SheetLayout {
    /// Whether parts are arranged on sheets, and on which: `no` makes a file for each part, `stock` arranges them on the
    /// sheets that the plan lists for the stock, `bed` on what of those lies on the bed of the machine.
    pub arrange: Arrange,
    /// Width and height of the machine's bed, as `[width, height]`.
    pub bed: Option<[f64; 2]>,
    /// Distance between parts on a sheet. When not given: what the largest tool of a router sweeps and 1 mm, or 2 mm and
    /// the kerf for a laser.
    pub spacing: Option<f64>,
    /// Distance of parts from the edge of a sheet. When not given: what the largest tool of a router sweeps, the strip for
    /// clamps and 1 mm, or 5 mm for a laser.
    pub margin: Option<f64>,
    /// How long a layout is looked for: `quick`, `good` or `best`. Each finds the same layout on every machine.
    pub effort: sheets::Effort,
    /// The point of the part or sheet that is 0,0 in the file, whatever runs past its edges.
    pub origin: FileOrigin,
}

impl Default for SheetLayout {
    fn default() -> Self {
        Self {
            arrange: Arrange::No,
            bed: None,
            spacing: None,
            margin: None,
            effort: sheets::Effort::Good,
            origin: FileOrigin::LowerLeft,
        }
    }
}

/// Whether and on what parts are arranged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Arrange {
    /// A file for each part.
    #[default]
    No,
    /// On the sheets of the stock.
    Stock,
    /// On the bed of the machine.
    Bed,
}

/// The point that is 0,0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FileOrigin {
    /// Lower left corner.
    #[default]
    #[serde(alias = "part")]
    LowerLeft,
    /// Lower right corner.
    LowerRight,
    /// Upper left corner.
    UpperLeft,
    /// Upper right corner.
    UpperRight,
    /// Centre.
    Centre,
}

impl SheetLayout {
    /// How parts are to be arranged, if they are.
    pub(super) fn settings(
        &self,
        spacing: f64,
        margin: f64,
        boxes_only: bool,
    ) -> Option<sheets::Settings> {
        let bed = self.bed.map(|[width, height]| (width, height));
        let bed = match self.arrange {
            Arrange::No => return None,
            Arrange::Stock => None,
            Arrange::Bed => Some(bed.unwrap_or(USUAL_BED)),
        };
        Some(sheets::Settings {
            bed,
            spacing: self.spacing.unwrap_or(spacing),
            margin: self.margin.unwrap_or(margin),
            boxes_only,
            effort: self.effort,
            saw: None,
        })
    }

    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        for side in self.bed.into_iter().flatten() {
            length_in_range("bed", side, (1.0, 100_000.0), findings);
        }
        length_in_range(
            "spacing",
            self.spacing.unwrap_or(0.0),
            (0.0, 1000.0),
            findings,
        );
        length_in_range(
            "margin",
            self.margin.unwrap_or(0.0),
            (0.0, 1000.0),
            findings,
        );
    }
}
