//! How layers are named and coloured by a profile.

use jigless_model::diag::Findings;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::codes;
use crate::option_check::{in_range, refused};

/// How a layer is called and coloured.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct LayerStyle {
    /// Its name; `{depth}`, `{diameter}` and `{angle}` stand for those of its work.
    pub name: Option<String>,
    /// Its colour number, from 1 to 255.
    #[schemars(range(min = 1, max = 255))]
    pub colour: Option<u8>,
}

impl LayerStyle {
    /// What is wrong with the values.
    pub(super) fn vet(&self, findings: &mut Findings) {
        // The rule of R12, which every version takes; a length may add eight characters, an angle five.
        let legal = |c: char| c.is_ascii_uppercase() || c.is_ascii_digit() || "$_-".contains(c);
        if let Some(name) = &self.name {
            let bare = name
                .replace("{depth}", "12345678")
                .replace("{diameter}", "12345678")
                .replace("{angle}", "12345");
            if bare.is_empty() || bare.len() > 31 || !bare.chars().all(legal) {
                findings.push(refused(
                    codes::LAYER_NAME_INVALID,
                    format!("`{name}` cannot be the name of a layer"),
                    "use A to Z, 0 to 9, $, _ and -, at most 31 of them with the depth",
                ));
            }
        }
        if let Some(colour) = self.colour {
            in_range("colour", colour.into(), (1.0, 255.0), "", findings);
        }
    }
}

/// What is on a layer, whatever its depth.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum LayerKind {
    /// Texts.
    Notes,
    /// What is made from the other face.
    Reference,
    /// What the machine does not make.
    HandWork,
    /// Where register pins stand.
    Pins,
    /// Holes for register pins.
    Register,
    /// Pencil lines and engraving.
    Mark,
    /// Grooves.
    Groove,
    /// Rebates.
    Rebate,
    /// Recesses.
    Recess,
    /// Conical mouths.
    Countersink,
    /// Flat-bottomed mouths.
    Counterbore,
    /// Holes with a depth.
    Drill,
    /// Holes right through.
    DrillThrough,
    /// Openings.
    CutInside,
    /// Outlines that are not closed.
    CutOpen,
    /// Outlines.
    CutOutside,
}
