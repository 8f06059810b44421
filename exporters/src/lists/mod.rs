//! Lists: what is cut, what is screwed in, what is bought. Every number is counted from parts, features and joints.

mod buying;
mod cut_list;
mod cut_parts;
mod hardware;

pub use buying::{BuyingList, BuyingOptions};
pub use cut_list::{CutListCsv, CutListJson};
pub use hardware::HardwareCsv;

use jigless_model::export::{Artifact, ExportError};
use jigless_model::units::{Unit, decimal};
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
    fn units(self) -> &'static [Unit] {
        match self {
            ListUnits::Both => &[Unit::Millimetre, Unit::Inch],
            ListUnits::Mm => &[Unit::Millimetre],
            ListUnits::In => &[Unit::Inch],
        }
    }

    /// The heads of columns: `length_mm`, `length_in`.
    fn heads(self, names: &[&str]) -> Vec<String> {
        let of_unit = |unit: &Unit| {
            let symbol = unit.symbol();
            names.iter().map(move |name| format!("{name}_{symbol}"))
        };
        self.units().iter().flat_map(of_unit).collect()
    }

    /// The values of such columns; empty where there is none.
    fn cells(self, lengths: &[Option<f64>]) -> Vec<String> {
        let of_unit = |unit: &Unit| {
            let unit = *unit;
            lengths
                .iter()
                .map(move |length| length.map_or_else(String::new, |mm| number(mm, unit)))
        };
        self.units().iter().flat_map(of_unit).collect()
    }
}

/// Options of the lists.
#[derive(Debug, Clone, Default, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct ListOptions {
    /// Units of the lengths: `both`, `mm` or `in`.
    pub units: ListUnits,
}

/// A length as a bare number: millimetres to a hundredth, inches to four places (2.5 micrometres).
fn number(mm: f64, unit: Unit) -> String {
    let decimals = match unit {
        Unit::Millimetre => 2,
        Unit::Inch => 4,
    };
    decimal(mm / unit.in_mm(), decimals)
}

/// A table as one file.
fn table(
    exporter: &'static str,
    name: &str,
    rows: impl IntoIterator<Item = Vec<String>>,
) -> Result<Vec<Artifact>, ExportError> {
    let failed = |message: String| ExportError { exporter, message };
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer
            .write_record(&row)
            .map_err(|error| failed(error.to_string()))?;
    }
    let bytes = writer
        .into_inner()
        .map_err(|error| failed(error.to_string()))?;
    Ok(vec![Artifact {
        path: format!("{name}.csv"),
        media_type: "text/csv",
        part: None,
        bytes,
    }])
}
