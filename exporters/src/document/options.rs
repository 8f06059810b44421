//! What the user can choose of a document, whatever shows it.

use jigless_model::diag::Findings;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::drawing::Tint;
use crate::drawing::measure::PaperUnits;
use crate::option_check;
use crate::saw_options::SawOptions;

/// What can be chosen of a document.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct DocumentOptions {
    /// Units of the numbers. `plan` is the plan's own: millimetres, or inches and fractions.
    pub units: PaperUnits,
    /// Fractions of an inch go down to one over this: 8, 16, 32 or 64.
    #[schemars(range(min = 8, max = 64))]
    pub fractions: u32,
    /// Inks: greys, or a tint for each material; lines are always black.
    pub inks: Tint,
    /// How sheets and boards are sawn.
    #[serde(flatten)]
    pub saw: SawOptions,
}

impl Default for DocumentOptions {
    fn default() -> Self {
        Self {
            units: PaperUnits::Plan,
            fractions: 64,
            inks: Tint::Colour,
            saw: SawOptions::default(),
        }
    }
}

impl DocumentOptions {
    /// What cannot be.
    pub(crate) fn faults(&self) -> Findings {
        let mut findings = Findings::new();
        option_check::fractions("fractions", self.fractions, &mut findings);
        self.saw.vet(&mut findings);
        findings
    }
}
