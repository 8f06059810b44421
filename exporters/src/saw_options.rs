//! What the user can choose about layouts by straight cuts: what is true of a saw, and of who uses it. Lengths are in
//! millimetres, whatever the unit of the file.

use jigless_model::diag::Findings;
use jigless_model::export::ExportInput;
use jigless_model::plan::Stock;
use jigless_model::sheets::{Effort, SawSettings, Settings};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::option_check::{in_range, length_in_range};
use crate::stock_sizes;

/// How sheets and boards are sawn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct SawOptions {
    /// What a cut of the saw takes away (3 mm: common practice, no source; measure your own blade's).
    pub saw_kerf: f64,
    /// What is cut off each factory edge of a sheet before anything else, kerf included; 0 keeps the edges. Sheets that
    /// a part fills from edge to edge are not trimmed.
    pub trim: f64,
    /// What is cut off each end of a board before anything else, kerf included.
    pub end_trim: f64,
    /// What is left on at each edge of a part whose outline is cut afterwards.
    pub oversize: f64,
    /// The longest side that one person handles: a larger sheet is first cut into boards that are no longer, but for
    /// parts that are, and laid out so.
    pub longest: Option<f64>,
    /// The greatest weight in kilograms that one person handles, in the same way; it needs the density of the stock.
    pub heaviest: Option<f64>,
    /// From the good side of the blade to the edge of the saw's base that runs along a guide, across the blade. The list
    /// of cuts then says where the guide goes.
    pub guide_offset: Option<f64>,
    /// A strip that is narrower is cut from a wide piece, never from a narrow one (100 mm: common practice, no source).
    pub narrow: f64,
    /// The least side of a rest that counts as an offcut and not as waste (common practice, no source).
    pub keep: f64,
    /// How often the direction of cutting may change, the first direction counted; without it as often as it saves sheets.
    pub stages: Option<u32>,
    /// How long a layout is looked for: `quick`, `good` or `best`. Each finds the same layout on every machine.
    pub effort: Effort,
}

impl Default for SawOptions {
    fn default() -> Self {
        Self {
            saw_kerf: 3.0,
            trim: 5.0,
            end_trim: 5.0,
            oversize: 0.0,
            longest: None,
            heaviest: None,
            guide_offset: None,
            narrow: 100.0,
            keep: 100.0,
            stages: None,
            effort: Effort::Good,
        }
    }
}

impl SawOptions {
    /// What is asked of the arrangement.
    pub fn settings(&self) -> Settings {
        Settings {
            bed: None,
            spacing: self.saw_kerf,
            margin: 0.0,
            boxes_only: true,
            effort: self.effort,
            saw: Some(SawSettings {
                kerf: self.saw_kerf,
                trim: self.trim,
                end_trim: self.end_trim,
                oversize: self.oversize,
                longest: self.longest,
                heaviest: self.heaviest,
                guide_offset: self.guide_offset,
                narrow: self.narrow,
                keep: self.keep,
                stages: self.stages,
            }),
        }
    }

    /// What is wrong with the values.
    pub fn vet(&self, findings: &mut Findings) {
        let lengths = [
            ("saw_kerf", self.saw_kerf, (0.0, 20.0)),
            ("trim", self.trim, (0.0, 100.0)),
            ("end_trim", self.end_trim, (0.0, 500.0)),
            ("oversize", self.oversize, (0.0, 100.0)),
            (
                "longest",
                self.longest.unwrap_or(1000.0),
                (100.0, 100_000.0),
            ),
            (
                "guide_offset",
                self.guide_offset.unwrap_or(0.0),
                (0.0, 1000.0),
            ),
            ("narrow", self.narrow, (0.0, 1000.0)),
            ("keep", self.keep, (0.0, 10_000.0)),
        ];
        for (option, value, range) in lengths {
            length_in_range(option, value, range, findings);
        }
        let heaviest = self.heaviest.unwrap_or(25.0);
        in_range("heaviest", heaviest, (0.1, 1000.0), "kg", findings);
        let stages = f64::from(self.stages.unwrap_or(3));
        in_range("stages", stages, (2.0, 20.0), "", findings);
    }

    /// Asks for the sizes of each stock of which parts are to be sawn.
    pub fn ask_for_sizes(input: &ExportInput, findings: &mut Findings) {
        let has_sizes = |stock: &Stock| !stock.sheets.is_empty() || !stock.boards.is_empty();
        stock_sizes::ask_for(input, has_sizes, findings);
    }
}
