//! What the user can choose about lists.

use jigless_model::units::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The units of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ListUnits {
    /// Millimetres and inches side by side.
    #[default]
    Both,
    /// Millimetres.
    Mm,
    /// Inches, as decimals to four places.
    In,
}

impl ListUnits {
    /// The units themselves.
    pub(super) fn units(self) -> &'static [Unit] {
        match self {
            ListUnits::Both => &[Unit::Millimetre, Unit::Inch],
            ListUnits::Mm => &[Unit::Millimetre],
            ListUnits::In => &[Unit::Inch],
        }
    }
}

/// Options of the lists.
#[derive(Debug, Clone, Default, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct ListOptions {
    /// Units of the lengths: `both`, `mm` or `in`.
    pub units: ListUnits,
}
