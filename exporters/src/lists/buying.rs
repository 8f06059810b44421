//! What to buy: sheets by their area and boards by their length.

use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::{Grain, Stock, StockKind};
use jigless_model::units::decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{ListUnits, table};

/// Sheets and boards to buy.
#[derive(Debug, Clone, Copy)]
pub struct BuyingList;

/// Options of the buying list.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct BuyingOptions {
    /// Units of the lengths: `both`, `mm` or `in`.
    pub units: ListUnits,
    /// Per cent that is added for saw cuts and offcuts (common practice, no source).
    #[schemars(range(min = 0.0, max = 200.0))]
    pub waste: f64,
}

impl Default for BuyingOptions {
    fn default() -> Self {
        Self {
            units: ListUnits::default(),
            waste: 15.0,
        }
    }
}

impl Exporter for BuyingList {
    type Options = BuyingOptions;

    fn id(&self) -> &'static str {
        "buying-list"
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
        options: &BuyingOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let mut heads = vec!["stock".to_owned(), "buy".to_owned(), "count".to_owned()];
        heads.extend(options.units.heads(&["length", "width", "thickness"]));
        heads.extend(["parts", "net_area_m2", "at_hand"].map(str::to_owned));
        let mut rows = vec![heads];
        for stock in &input.plan.stock {
            if stock.kind == StockKind::Solid {
                rows.extend(boards(input, options, stock));
            } else {
                rows.extend(sheets(input, options, stock));
            }
        }
        table(Exporter::id(self), "buying", rows)
    }
}

/// The sheets of a stock by area; the first size that the plan lists, or the area alone where it lists none.
fn sheets(input: &ExportInput, options: &BuyingOptions, stock: &Stock) -> Option<Vec<String>> {
    let parts = input
        .workpieces
        .iter()
        .filter(|w| w.part.stock.id == stock.id);
    let (mut pieces, mut area) = (0, 0.0);
    for workpiece in parts {
        let part = &workpiece.part;
        pieces += part.count;
        area += part.width * part.height * f64::from(part.count);
    }
    if pieces == 0 {
        return None;
    }
    let needed = area * (1.0 + options.waste / 100.0);
    let sheet = stock.sheets.first();
    let count = sheet.map_or_else(String::new, |sheet| {
        decimal((needed / (sheet.width * sheet.height)).ceil(), 0)
    });
    let mut row = vec![stock.label.clone(), "sheet".to_owned(), count];
    row.extend(options.units.cells(&[
        sheet.map(|sheet| sheet.height),
        sheet.map(|sheet| sheet.width),
        Some(stock.thickness),
    ]));
    row.push(pieces.to_string());
    row.push(decimal(area / 1e6, 3));
    row.push(sheet.map_or_else(String::new, |_| {
        stock
            .sheets
            .iter()
            .map(|sheet| sheet.count)
            .sum::<u32>()
            .to_string()
    }));
    Some(row)
}

/// The lengths of a solid stock, a line for each width, the widest first.
fn boards(input: &ExportInput, options: &BuyingOptions, stock: &Stock) -> Vec<Vec<String>> {
    let mut widths: Vec<(f64, f64, u32)> = Vec::new();
    for workpiece in input
        .workpieces
        .iter()
        .filter(|w| w.part.stock.id == stock.id)
    {
        let part = &workpiece.part;
        let (length, width) = match part.grain {
            Grain::Width => (part.width, part.height),
            Grain::Height => (part.height, part.width),
            Grain::None => (part.width.max(part.height), part.width.min(part.height)),
        };
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
    widths
        .into_iter()
        .map(|(width, run, count)| {
            let mut row = vec![stock.label.clone(), "length".to_owned(), "1".to_owned()];
            let with_waste = run * (1.0 + options.waste / 100.0);
            row.extend(options.units.cells(&[
                Some(with_waste),
                Some(width),
                Some(stock.thickness),
            ]));
            row.push(count.to_string());
            row.push(decimal(run * width / 1e6, 3));
            row.push(String::new());
            row
        })
        .collect()
}
