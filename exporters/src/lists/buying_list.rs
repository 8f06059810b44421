//! What to buy: the sheets and lengths that a layout by straight cuts uses. Where a plan does not say what a stock is sold
//! in, sheets go by their area and solid wood by its length, with an addition for saw cuts and offcuts.

use jigless_model::caution::{Caution, Medium, called_for};
use jigless_model::costs::costs;
use jigless_model::diag::{Finding, Findings};
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::finish::FinishUse;
use jigless_model::plan::{Part, Stock, StockKind};
use jigless_model::sheets::{Arrangement, Settings, SheetOrigin, StockGoods, StockLayout};
use jigless_model::units::decimal;
use jigless_model::workpiece::Workpiece;
use jigless_solid::finishing;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cut_parts::along_grain;
use super::finish_rows::finish_rows;
use super::options::ListUnits;
use super::table::{Cell, artifact, length_cells, length_heads, price_cells};
use crate::cautions;
use crate::codes;
use crate::saw_options::SawOptions;

/// Sheets and boards to buy.
#[derive(Debug, Clone, Copy)]
pub struct BuyingListCsv;

/// Options of the buying list.
#[derive(Debug, Clone, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct BuyingListOptions {
    /// Units of the lengths: `both`, `mm` or `in`.
    pub units: ListUnits,
    /// Per cent that is added for saw cuts and offcuts where the plan does not say what a stock is sold in (common
    /// practice, no source).
    #[schemars(range(min = 0.0, max = 200.0))]
    pub waste: f64,
    /// How sheets and boards are sawn.
    #[serde(flatten)]
    pub saw: SawOptions,
}

impl Default for BuyingListOptions {
    fn default() -> Self {
        Self {
            units: ListUnits::default(),
            waste: 15.0,
            saw: SawOptions::default(),
        }
    }
}

impl Exporter for BuyingListCsv {
    type Options = BuyingListOptions;

    fn id(&self) -> &'static str {
        "buying-list-csv"
    }

    fn summary(&self) -> &'static str {
        "what to buy as a table: the sheets and boards that a layout by straight cuts uses, what is left of them, finish and abrasive, and what it costs"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn arranging(&self, options: &BuyingListOptions) -> Option<Settings> {
        Some(options.saw.settings())
    }

    fn vet(&self, input: &ExportInput, options: &BuyingListOptions) -> Findings {
        let mut findings = Findings::new();
        options.saw.vet(&mut findings);
        for stock in &input.plan.stock {
            let unsaid = stock.sheets.is_empty() && stock.boards.is_empty();
            if unsaid && stock.kind != StockKind::Solid && parts_of(input, stock).next().is_some() {
                let message = format!(
                    "stock `{}` lists no sheets, so only its area is known",
                    stock.id
                );
                findings.push(
                    Finding::warning(codes::STOCK_BY_AREA_ALONE, stock.span, message).fix(
                        "write what there is or can be bought: `sheets: [{width: 1220, height: 2440, count: 1}]`",
                    ),
                );
            }
        }
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &BuyingListOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let mut heads: Vec<Cell> = ["stock", "sold_as", "count"].map(Cell::text).into();
        heads.extend(length_heads(
            options.units,
            &["length", "width", "thickness"],
        ));
        let more = [
            "parts",
            "net_area_m2",
            "at_hand",
            "to_buy",
            "left_m2",
            "price",
            "cost",
            "note",
            "cautions",
        ];
        heads.extend(more.map(Cell::text));
        let nothing = Arrangement::default();
        let arrangement = input.sheets.unwrap_or(&nothing);
        let mut rows = vec![heads];
        for stock in &input.plan.stock {
            let begun = rows.len();
            let layouts: Vec<&StockLayout> = arrangement
                .stocks
                .iter()
                .filter(|layout| layout.stock.id == stock.id)
                .collect();
            if !layouts.is_empty() {
                for layout in layouts {
                    rows.extend(laid_out(input, options, layout));
                }
            } else if stock.kind == StockKind::Solid {
                rows.extend(boards(input, options, stock));
            } else {
                rows.extend(sheets(input, options, stock));
            }
            let of_stock = |w: &&Workpiece| w.part.stock.id == stock.id;
            let made: Vec<Workpiece> = input.workpieces.iter().filter(of_stock).cloned().collect();
            let said = cautions::cell(&called_for(input.plan, &made, Medium::Parts));
            for row in &mut rows[begun..] {
                row.push(Cell::text(said.as_str()));
            }
        }
        let finishing = finishing(input.plan, input.workpieces);
        for used in &finishing {
            rows.extend(finish_rows(input.plan, used, options.units));
        }
        rows.extend(total(input, arrangement, &finishing, options.units));
        artifact(Exporter::id(self), "buying-list", &rows)
    }
}

/// Cells of what is neither at hand nor bought by the piece, and has no price.
const NOTHING: [Cell; 5] = [
    Cell::Empty,
    Cell::Empty,
    Cell::Empty,
    Cell::Empty,
    Cell::Empty,
];

/// The sum of all that has a price; none where nothing has one. Hardware has a list of its own and is not in it.
fn total(
    input: &ExportInput,
    arrangement: &Arrangement,
    finishing: &[FinishUse],
    units: ListUnits,
) -> Option<Vec<Cell>> {
    let costs = costs(input.plan, &[], arrangement, finishing);
    let total = costs.total()?;
    let mut row = vec![Cell::text("in all"), Cell::Empty, Cell::Empty];
    row.extend(length_cells(units, &[None, None, None]));
    row.extend([
        Cell::Empty,
        Cell::Empty,
        Cell::Empty,
        Cell::Empty,
        Cell::Empty,
        Cell::Empty,
    ]);
    row.push(Cell::Number(total, 2));
    let currency = input
        .plan
        .prices
        .currency
        .iter()
        .map(|currency| format!("in {currency}"));
    let without = costs.without_price().len();
    let without = (without > 0).then(|| format!("without {without} that have no price"));
    let hardware = "hardware is in its own list".to_owned();
    let note: Vec<String> = currency.chain(without).chain([hardware]).collect();
    row.push(Cell::Text(note.join("; ")));
    row.push(Cell::Text(cautions::cell(&[Caution::Work])));
    Some(row)
}

/// What a layout takes, a line for each size and each place where it comes from; and a line for what fits none.
fn laid_out(
    input: &ExportInput,
    options: &BuyingListOptions,
    layout: &StockLayout,
) -> Vec<Vec<Cell>> {
    let part_of = |kind: usize| &input.workpieces[layout.workpieces[kind]].part;
    let area_of = |kind: usize| part_of(kind).width * part_of(kind).height / 1e6;
    let row = |size: usize, origin: SheetOrigin, count: u32, note: String| {
        // The pieces on sheets or boards of this size: their kinds.
        let (word, pieces) = match &layout.goods {
            StockGoods::Sheets(_, answer) => {
                let sheets = answer.sheets.iter().filter(|sheet| sheet.size == size);
                let pieces: Vec<usize> = sheets
                    .flat_map(jigless_model::sheets::CutSheet::pieces)
                    .map(|(_, piece)| piece.kind)
                    .collect();
                ("sheet", pieces)
            }
            StockGoods::Boards(_, answer) => {
                let boards = answer.boards.iter().filter(|board| board.length == size);
                let pieces: Vec<usize> = boards
                    .flat_map(|board| &board.pieces)
                    .map(|(kind, _)| *kind)
                    .collect();
                ("board", pieces)
            }
        };
        let (length, width) = layout.size(size);
        let whole = length * width / 1e6;
        let net: f64 = pieces.iter().map(|&kind| area_of(kind)).sum();
        let mut row = vec![
            Cell::text(&layout.stock.label),
            Cell::text(word),
            Cell::count(count),
        ];
        let sizes = [length, width, layout.stock.thickness].map(Some);
        row.extend(length_cells(options.units, &sizes));
        let (at_hand, to_buy) = match origin {
            SheetOrigin::ToBuy => (0, count),
            SheetOrigin::AtHand | SheetOrigin::Leftover => (count, 0),
        };
        row.push(Cell::count(pieces.len() as u32));
        row.push(Cell::Number(net, 3));
        row.push(Cell::count(at_hand));
        row.push(Cell::count(to_buy));
        row.push(Cell::Number(f64::from(count) * whole - net, 3));
        row.extend(price_cells(f64::from(to_buy), layout.price(size)));
        row.push(Cell::Text(note));
        row
    };
    let (bound, proved, left) = match &layout.goods {
        StockGoods::Sheets(_, answer) => (answer.bound, answer.proved, &answer.left),
        StockGoods::Boards(_, answer) => (answer.bound, answer.proved, &answer.left),
    };
    let taken = layout.taken();
    let all: u32 = taken.iter().map(|(.., count)| *count).sum();
    let note = if proved || (left.is_empty() && all as usize <= bound) {
        format!("{all} in all, proved the least")
    } else {
        format!("{all} in all, at least {bound} are needed")
    };
    let mut rows: Vec<Vec<Cell>> = taken
        .into_iter()
        .map(|(size, origin, count)| row(size, origin, count, note.clone()))
        .collect();
    for (kind, count) in left {
        let part = part_of(*kind);
        let mut row = vec![
            Cell::text(&layout.stock.label),
            Cell::text("nothing"),
            Cell::Empty,
        ];
        let (length, width) = along_grain(part);
        let sizes = [length, width, layout.stock.thickness].map(Some);
        row.extend(length_cells(options.units, &sizes));
        row.push(Cell::count(*count));
        row.push(Cell::Number(f64::from(*count) * area_of(*kind), 3));
        row.extend(NOTHING);
        let together = match &part.grain_group {
            Some(group) => format!(" together with all else of {group}"),
            None => String::new(),
        };
        row.push(Cell::Text(format!(
            "{} fits nothing that is listed{together}",
            part.title
        )));
        rows.push(row);
    }
    rows
}

/// The parts of a stock.
fn parts_of<'a>(input: &ExportInput<'a>, stock: &Stock) -> impl Iterator<Item = &'a Part> {
    let parts = input.workpieces.iter().map(|workpiece| &*workpiece.part);
    parts.filter(|part| part.stock.id == stock.id)
}

/// The area of a stock of which the plan does not say what it is sold in.
fn sheets(input: &ExportInput, options: &BuyingListOptions, stock: &Stock) -> Option<Vec<Cell>> {
    let pieces: u32 = parts_of(input, stock).map(|part| part.count).sum();
    if pieces == 0 {
        return None;
    }
    let area_of = |part: &Part| part.width * part.height * f64::from(part.count);
    let area: f64 = parts_of(input, stock).map(area_of).sum();
    let needed = area * (1.0 + options.waste / 100.0) / 1e6;
    let mut row = vec![Cell::text(&stock.label), Cell::text("sheet"), Cell::Empty];
    row.extend(length_cells(
        options.units,
        &[None, None, Some(stock.thickness)],
    ));
    row.push(Cell::count(pieces));
    row.push(Cell::Number(area / 1e6, 3));
    row.extend(NOTHING);
    let needed = decimal(needed, 3);
    row.push(Cell::Text(format!(
        "about {needed} m2; the plan lists no sheets"
    )));
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
        row.extend(NOTHING);
        row.push(Cell::text("in all; the plan lists no lengths"));
        row
    };
    widths.into_iter().map(row).collect()
}
