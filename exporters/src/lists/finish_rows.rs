//! Rows of the buying list for what is put on the wood, and for what it is sanded with.

use jigless_model::caution::{Caution, of_finish};
use jigless_model::finish::{Finish, FinishUse};
use jigless_model::plan::Plan;
use jigless_model::units::{Unit, decimal};

use super::options::ListUnits;
use super::table::{Cell, length_cells, price_cells};
use crate::cautions;

/// A US liquid quart is a quarter of 231 cubic inches, exactly (NIST Special Publication 811, from memory).
const LITRES_IN_A_QUART: f64 = 0.946_352_946;

/// A row for the finish, unless its sides stay bare, and one for each grit.
pub(super) fn finish_rows(plan: &Plan, used: &FinishUse, units: ListUnits) -> Vec<Vec<Cell>> {
    let entry = &plan.finish[used.entry];
    let row = |bought: Bought| {
        let mut row = vec![
            Cell::Text(bought.what),
            Cell::text(bought.sold_as),
            bought.count.clone(),
        ];
        row.extend(length_cells(units, &[None, None, None]));
        row.push(Cell::count(
            used.parts.iter().map(|(_, count, _)| count).sum(),
        ));
        row.push(Cell::Number(used.area() / 1e6, 3));
        row.extend([Cell::Empty, bought.count, Cell::Empty]);
        row.extend(price_cells(bought.number, bought.price));
        row.push(Cell::Text(bought.note));
        let mut all = vec![Caution::Work];
        all.extend(bought.cautions);
        row.push(Cell::Text(cautions::cell(&all)));
        row
    };
    let mut rows = Vec::new();
    if !entry.is_bare() {
        let litres = entry.litres(used.area());
        rows.push(row(Bought {
            what: entry.title.clone(),
            sold_as: "litre",
            count: litres.map_or(Cell::Empty, |litres| Cell::Number(litres, 2)),
            number: litres.unwrap_or(0.0),
            price: litres.and(entry.price),
            note: note(plan, entry, used, litres),
            cautions: of_finish(entry.kind),
        }));
    }
    for (grit, times) in entry.sandings() {
        let sheets = entry.sheets(used.area(), times);
        let covers = match entry.sheet_covers {
            Some(covers) => format!("a sheet sands {} m2", decimal(covers, 2)),
            None => "the plan does not say what a sheet sands".to_owned(),
        };
        rows.push(row(Bought {
            what: format!("Abrasive, grit {grit}"),
            sold_as: "sheet",
            count: sheets.map_or(Cell::Empty, Cell::count),
            number: sheets.map_or(0.0, f64::from),
            price: sheets.and(entry.sheet_price),
            note: if times > 1 {
                format!("sanded {times} times; {covers}")
            } else {
                covers
            },
            cautions: &[Caution::Sanding],
        }));
    }
    rows
}

/// What a row is of.
struct Bought {
    what: String,
    sold_as: &'static str,
    count: Cell,
    number: f64,
    price: Option<f64>,
    note: String,
    cautions: &'static [Caution],
}

/// How the litres come about, or why there are none.
fn note(plan: &Plan, entry: &Finish, used: &FinishUse, litres: Option<f64>) -> String {
    let mut said = Vec::new();
    match (entry.coats, entry.coverage) {
        (Some(coats), Some(coverage)) => {
            let coats = if coats == 1 {
                "1 coat".to_owned()
            } else {
                format!("{coats} coats")
            };
            said.push(format!(
                "{coats}, a litre covers {} m2",
                decimal(coverage.value, 1)
            ));
        }
        (_, None) => said.push("the plan gives no coverage, so litres are not known".to_owned()),
        (None, _) => said.push("the plan gives no coats, so litres are not known".to_owned()),
    }
    if let (Unit::Inch, Some(litres)) = (plan.units, litres) {
        said.push(format!(
            "{} US quarts",
            decimal(litres / LITRES_IN_A_QUART, 2)
        ));
    }
    if used.covered > 0.0 {
        said.push(format!(
            "joints cover {} m2 that is not counted",
            decimal(used.covered / 1e6, 3)
        ));
    }
    if !used.unplaced.is_empty() {
        said.push(format!(
            "what joints cover of {} is counted, because no place is given",
            used.unplaced.join(", ")
        ));
    }
    said.join("; ")
}
