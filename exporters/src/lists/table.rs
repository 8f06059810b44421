//! Tables as CSV (RFC 4180), safe to open in a spreadsheet.
//!
//! A spreadsheet takes a field that begins with `=`, `+`, `-`, `@`, a tab or a carriage return for a formula, quoted or
//! not, and a plan may come from anybody. Such texts get a single quote before them, and their row is quoted (OWASP, "CSV
//! Injection"). Numbers stay numbers, the negative ones too.

use csv::{QuoteStyle, WriterBuilder};
use jigless_model::export::{Artifact, ExportError};
use jigless_model::units::{Unit, decimal};

use super::options::ListUnits;

/// How a text begins that a spreadsheet takes for a formula.
const FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// One field of a table.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Cell {
    /// Words.
    Text(String),
    /// A number with at most so many decimals.
    Number(f64, usize),
    /// Nothing.
    Empty,
}

impl Cell {
    /// A text; nothing where it is empty.
    pub(super) fn text(words: impl Into<String>) -> Self {
        Cell::Text(words.into())
    }

    /// How many there are of something.
    pub(super) fn count(count: u32) -> Self {
        Cell::Number(count.into(), 0)
    }

    /// A length: millimetres to a hundredth, inches to four places (2.5 micrometres).
    fn length(mm: f64, unit: Unit) -> Self {
        let decimals = match unit {
            Unit::Millimetre => 2,
            Unit::Inch => 4,
        };
        Cell::Number(mm / unit.in_mm(), decimals)
    }

    fn is_formula(&self) -> bool {
        matches!(self, Cell::Text(words) if words.starts_with(FORMULA))
    }

    fn field(&self) -> String {
        match self {
            Cell::Text(words) if self.is_formula() => format!("'{words}"),
            Cell::Text(words) => words.clone(),
            Cell::Number(value, decimals) => decimal(*value, *decimals),
            Cell::Empty => String::new(),
        }
    }
}

/// Numbers of steps, one after the other.
pub(super) fn numbers(numbers: &[usize]) -> String {
    let numbers: Vec<String> = numbers.iter().map(usize::to_string).collect();
    numbers.join(" ")
}

/// A length in millimetres as a number of a unit, to the decimals that a table has.
pub(super) fn rounded(mm: f64, unit: Unit) -> f64 {
    let steps = match unit {
        Unit::Millimetre => 1e2,
        Unit::Inch => 1e4,
    };
    (mm / unit.in_mm() * steps).round() / steps
}

/// The heads of columns of lengths: `length_mm`, `length_in`.
pub(super) fn length_heads(units: ListUnits, names: &[&str]) -> Vec<Cell> {
    let of_unit = |unit: &Unit| {
        let symbol = unit.symbol();
        let head = move |name: &&str| Cell::text(format!("{name}_{symbol}"));
        names.iter().map(head)
    };
    units.units().iter().flat_map(of_unit).collect()
}

/// The fields of such columns, of lengths in millimetres; empty where there is none.
pub(super) fn length_cells(units: ListUnits, lengths: &[Option<f64>]) -> Vec<Cell> {
    let of_unit = |unit: &Unit| {
        let unit = *unit;
        let cell = move |mm: &Option<f64>| mm.map_or(Cell::Empty, |mm| Cell::length(mm, unit));
        lengths.iter().map(cell)
    };
    units.units().iter().flat_map(of_unit).collect()
}

/// The price of one and what all cost; empty where the author gives no price.
pub(super) fn price_cells(count: f64, price: Option<f64>) -> [Cell; 2] {
    match price {
        Some(price) => [Cell::Number(price, 4), Cell::Number(price * count, 2)],
        None => [Cell::Empty, Cell::Empty],
    }
}

/// A table as one file.
pub(super) fn artifact(
    exporter: &'static str,
    name: &str,
    rows: &[Vec<Cell>],
) -> Result<Vec<Artifact>, ExportError> {
    Ok(vec![Artifact {
        path: format!("{name}.csv"),
        media_type: "text/csv",
        part: None,
        bytes: written(rows).map_err(|error| ExportError {
            exporter,
            message: error.to_string(),
        })?,
    }])
}

fn written(rows: &[Vec<Cell>]) -> Result<Vec<u8>, csv::Error> {
    let mut bytes = Vec::new();
    for row in rows {
        let style = if row.iter().any(Cell::is_formula) {
            QuoteStyle::NonNumeric
        } else {
            QuoteStyle::Necessary
        };
        let mut writer = WriterBuilder::new()
            .quote_style(style)
            .from_writer(&mut bytes);
        writer.write_record(row.iter().map(Cell::field))?;
        writer.flush()?;
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(row: Vec<Cell>) -> String {
        String::from_utf8(written(&[row]).unwrap()).unwrap()
    }

    /// What OWASP lists, and commands that have been seen in such fields.
    #[test]
    fn texts_that_would_be_formulas_are_quoted() {
        for text in [
            "=1+1",
            "=HYPERLINK(\"http://example.org\";\"x\")",
            "+1",
            "-1",
            "@SUM(A1)",
            "\t=1",
            "\r=1",
            "=cmd|' /C calc'!A0",
        ] {
            let written = line(vec![Cell::text(text), Cell::count(2)]);
            let quoted = text.replace('"', "\"\"");
            assert_eq!(written, format!("\"'{quoted}\",2\n"));
        }
    }

    #[test]
    fn other_texts_and_numbers_stay_as_they_are() {
        let row = vec![
            Cell::text("door - left"),
            Cell::Number(-12.5, 2),
            Cell::count(2),
            Cell::Empty,
        ];
        assert_eq!(line(row), "door - left,-12.5,2,\n");
        assert_eq!(
            line(vec![Cell::text("a \"b\", c"), Cell::Number(1e6, 0)]),
            "\"a \"\"b\"\", c\",1000000\n"
        );
    }

    /// A number beside a hostile text is no text.
    #[test]
    fn a_number_in_a_quoted_row_is_bare() {
        let row = vec![Cell::text("=A1"), Cell::Number(-0.25, 2)];
        assert_eq!(line(row), "\"'=A1\",-0.25\n");
    }
}
