//! The list of hardware.

use jigless_model::caution::{Caution, of_fitting};
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::hardware::count;

use super::options::{ListOptions, ListUnits};
use super::table::{self, Cell, artifact, length_cells, length_heads, price_cells};
use crate::cautions;
use crate::used_in::UsedIn;

/// Screws, hinges, runners and the like, and the glue lines.
#[derive(Debug, Clone, Copy)]
pub struct HardwareCsv;

impl Exporter for HardwareCsv {
    type Options = ListOptions;

    fn id(&self) -> &'static str {
        "hardware-csv"
    }

    fn summary(&self) -> &'static str {
        "hardware as a table, counted from the features that take it, and the glue of every joint by length and area"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &ListOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let mut heads: Vec<Cell> = ["what", "gauge"].map(Cell::text).into();
        heads.extend(length_heads(options.units, &["length"]));
        heads.extend(
            [
                "count", "area_cm2", "price", "cost", "parts", "steps", "cautions",
            ]
            .map(Cell::text),
        );
        let mut rows = vec![heads];
        let used_in = UsedIn::new(input);
        for line in count(input.workpieces) {
            let fitting = &line.fitting;
            let parts = line.parts.iter();
            let parts = parts.map(|(part, count)| format!("{part} {count}"));
            rows.push(row(
                options.units,
                fitting.kind.name(),
                fitting.gauge.as_deref().unwrap_or_default(),
                fitting.length,
                (fitting.count, None, input.plan.prices.of(fitting)),
                (&parts.collect::<Vec<_>>(), &used_in.fitting(fitting)),
                of_fitting(fitting.kind),
            ));
        }
        for joint in &input.plan.joints {
            let Some(glue) = joint.glue else {
                continue;
            };
            rows.push(row(
                options.units,
                "glue line",
                "",
                Some(glue.length),
                (joint.count, Some(glue.area), None),
                (&[format!("{} to {}", joint.part, joint.to)], &[]),
                &[Caution::Glue],
            ));
        }
        artifact(Exporter::id(self), "hardware", &rows)
    }
}

/// A row; `count` pieces or lines, the area of all of them in square millimetres, and the price of one; for
/// which parts, and in which steps.
fn row(
    units: ListUnits,
    what: &str,
    gauge: &str,
    length: Option<f64>,
    (count, area, price): (u32, Option<f64>, Option<f64>),
    (parts, steps): (&[String], &[usize]),
    cautions: &[Caution],
) -> Vec<Cell> {
    let mut row = vec![Cell::text(what), Cell::text(gauge)];
    row.extend(length_cells(units, &[length]));
    row.push(Cell::count(count));
    row.push(area.map_or(Cell::Empty, |area| Cell::Number(area / 100.0, 1)));
    row.extend(price_cells(f64::from(count), price));
    row.push(Cell::Text(parts.join("; ")));
    row.push(Cell::Text(table::numbers(steps)));
    let mut all = vec![Caution::Work];
    all.extend(cautions);
    row.push(Cell::Text(cautions::cell(&all)));
    row
}
