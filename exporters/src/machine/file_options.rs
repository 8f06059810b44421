//! What the user can choose about a DXF file.

use std::collections::BTreeMap;

use jigless_model::diag::Findings;
use jigless_model::units::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::layer_style::{LayerKind, LayerStyle};

/// What a DXF file is like.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct DxfFile {
    /// Unit of the coordinates: `plan` takes the plan's own, so a plan in inches gives a file in inches.
    pub units: FileUnits,
    /// Version of the format: `r2000` says its unit in the file; `r12` is for older machines and says it in the notes
    /// only.
    pub version: Version,
    /// Whether to write the texts on layer NOTES: name, count, stock, size, units, edges and what each layer means.
    pub notes: bool,
    /// Names and colours of layers by kind of work, such as `{groove: {name: "POCKET-{depth}", colour: 3}}`. `{depth}`,
    /// `{diameter}` and `{angle}` stand for those of the work; names that would put two kinds, depths or diameters on one
    /// layer are refused. Kinds:
    /// `notes`, `reference`, `hand_work`, `pins`, `register`, `mark`, `groove`, `rebate`, `recess`, `countersink`, `counterbore`,
    /// `drill`, `drill_through`, `cut_inside`, `cut_open`, `cut_outside`.
    pub layers: BTreeMap<LayerKind, LayerStyle>,
}

impl Default for DxfFile {
    fn default() -> Self {
        Self {
            units: FileUnits::Plan,
            version: Version::R2000,
            notes: true,
            layers: BTreeMap::new(),
        }
    }
}

/// Unit of the coordinates in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub enum FileUnits {
    /// The unit of the plan.
    #[default]
    #[serde(rename = "plan")]
    Plan,
    /// Millimetres.
    #[serde(rename = "mm")]
    Millimetre,
    /// Inches.
    #[serde(rename = "in")]
    Inch,
}

impl FileUnits {
    /// The unit itself, for a plan in the given one.
    pub(super) fn of_plan(self, plan: Unit) -> Unit {
        match self {
            FileUnits::Plan => plan,
            FileUnits::Millimetre => Unit::Millimetre,
            FileUnits::Inch => Unit::Inch,
        }
    }
}

/// Version of the format.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Version {
    /// AC1009 (1992): contours are POLYLINE with VERTEX and SEQEND.
    R12,
    /// AC1015 (1999): contours are LWPOLYLINE.
    #[default]
    R2000,
}

impl DxfFile {
    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        for style in self.layers.values() {
            style.vet(findings);
        }
    }
}
