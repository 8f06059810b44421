//! What the user can choose about a DXF file.

use jigless_core::units::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Options of the DXF exporters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct DxfOptions {
    /// Unit of the coordinates: `plan` takes the plan's own, so a plan in inches gives a file in inches.
    pub units: FileUnits,
    /// Version of the format: `r2000` says its unit in the file; `r12` is for older machines and says it in the notes
    /// only.
    pub version: Version,
    /// Whether to write the texts on layer NOTES: name, count, stock, size, units, edges and what each layer means.
    pub notes: bool,
}

impl Default for DxfOptions {
    fn default() -> Self {
        Self {
            units: FileUnits::Plan,
            version: Version::R2000,
            notes: true,
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
