//! What to buy: sheets by their area and boards by their length.

use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::{Part, Stock, StockKind};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cut_parts::along_grain;
use super::options::ListUnits;
use super::table::{Cell, artifact, length_cells, length_heads};

/// Sheets and boards to buy.
#[derive(Debug, Clone, Copy)]
pub struct BuyingListCsv;

/// Options of the buying list.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct BuyingListOptions {
    /// Units of the lengths: `both`, `mm` or `in`.
    pub units: ListUnits,
    /// Per cent that is added for saw cuts and offcuts (common practice, no source).
    #[schemars(range(min = 0.0, max = 200.0))]
    pub waste: f64,
}

impl Default for BuyingListOptions {
    fn default() -> Self {
        Self {
            units: ListUnits::default(),
            waste: 15.0,
        }
    }
}

impl Exporter for BuyingListCsv {
    type Options = BuyingListOptions;

    fn id(&self) -> &'static str {
        "buying-list-csv"
    }

    fn summary(&self) -> &'static str {
        "what to buy as a table: sheets by area, solid wood by length"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &BuyingListOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let mut heads: Vec<Cell> = ["stock", "buy", "count"].map(Cell::text).into();
        heads.extend(length_heads(
            options.units,
            &["length", "width", "thickness"],
        ));
        heads.extend(["parts", "net_area_m2", "at_hand"].map(Cell::text));
        let mut rows = vec![heads];
        for stock in &input.plan.stock {
            if stock.kind == StockKind::Solid {
                rows.extend(boards(input, options, stock));
            } else {
                rows.extend(sheets(input, options, stock));
            }
        }
        artifact(Exporter::id(self), "buying-list", &rows)
    }
}

/// The parts of a stock.
fn parts_of<'a>(input: &ExportInput<'a>, stock: &Stock) -> impl Iterator<Item = &'a Part> {
    let parts = input.workpieces.iter().map(|workpiece| &*workpiece.part);
    parts.filter(|part| part.stock.id == stock.id)
}

/// The sheets of a stock by area; the first size that the plan lists, or the area alone where it lists none.
fn sheets(input: &ExportInput, options: &BuyingListOptions, stock: &Stock) -> Option<Vec<Cell>> {
    let pieces: u32 = parts_of(input, stock).map(|part| part.count).sum();
    if pieces == 0 {
        return None;
    }
    let area_of = |part: &Part| part.width * part.height * f64::from(part.count);
    let area: f64 = parts_of(input, stock).map(area_of).sum();
    let needed = area * (1.0 + options.waste / 100.0);
    let mut row = vec![Cell::text(&stock.label), Cell::text("sheet")];
    let at_hand = stock.sheets.iter().map(|sheet| sheet.count).sum();
    let sheet = stock.sheets.first();
    row.push(sheet.map_or(Cell::Empty, |sheet| {
        Cell::Number((needed / (sheet.width * sheet.height)).ceil(), 0)
    }));
    row.extend(length_cells(
        options.units,
        &[
            sheet.map(|sheet| sheet.height),
            sheet.map(|sheet| sheet.width),
            Some(stock.thickness),
        ],
    ));
    row.push(Cell::count(pieces));
    row.push(Cell::Number(area / 1e6, 3));
    row.push(sheet.map_or(Cell::Empty, |_| Cell::count(at_hand)));
    Some(row)
}

/// The lengths of a solid stock, a line for each width, the widest first.
fn boards(input: &ExportInput, options: &BuyingListOptions, stock: &Stock) -> Vec<Vec<Cell>> {
    let mut widths: Vec<(f64, f64, u32)> = Vec::new();
    for part in parts_of(input, stock) {
        let (length, width) = along_grain(part);
        let run = length * f64::from(part.count);
        match widths
            .iter_mut()
            .find(|(own, ..)| (own - width).abs() < 0.01)
        {
            Some((_, length, count)) => {
                *length += run;
                *count += part.count;
            }
            None => widths.push((width, run, part.count)),
        }
    }
    widths.sort_by(|a, b| b.0.total_cmp(&a.0));
    let row = |(width, run, count): (f64, f64, u32)| {
        let mut row = vec![
            Cell::text(&stock.label),
            Cell::text("length"),
            Cell::count(1),
        ];
        let with_waste = run * (1.0 + options.waste / 100.0);
        let sizes = [with_waste, width, stock.thickness].map(Some);
        row.extend(length_cells(options.units, &sizes));
        row.push(Cell::count(count));
        row.push(Cell::Number(run * width / 1e6, 3));
        row.push(Cell::Empty);
        row
    };
    widths.into_iter().map(row).collect()
}
