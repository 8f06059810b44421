//! The list of hardware.

use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::hardware::count;

use super::options::{ListOptions, ListUnits};
use super::table::{Cell, artifact, length_cells, length_heads};

/// Screws, hinges, runners and the like, and the glue lines.
#[derive(Debug, Clone, Copy)]
pub struct HardwareCsv;

impl Exporter for HardwareCsv {
    type Options = ListOptions;

    fn id(&self) -> &'static str {
        "hardware-csv"
    }

    fn summary(&self) -> &'static str {
        "hardware as a table, counted from the features that take it, and the length of all glue lines"
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
        heads.extend(["count", "parts"].map(Cell::text));
        let mut rows = vec![heads];
        for line in count(input.workpieces) {
            let fitting = &line.fitting;
            let parts = line.parts.iter();
            let parts = parts.map(|(part, count)| format!("{part} {count}"));
            rows.push(row(
                options.units,
                fitting.kind.name(),
                fitting.gauge.as_deref().unwrap_or_default(),
                fitting.length,
                fitting.count,
                &parts.collect::<Vec<_>>(),
            ));
        }
        let joints = input.plan.joints.iter();
        let glued: Vec<_> = joints.filter(|joint| joint.glue.is_some()).collect();
        if !glued.is_empty() {
            let length = glued.iter().filter_map(|joint| joint.glue).sum();
            let count = glued.iter().map(|joint| joint.count).sum();
            let parts = glued.iter();
            let parts = parts.map(|joint| format!("{} to {}", joint.part, joint.to));
            let parts: Vec<_> = parts.collect();
            rows.push(row(
                options.units,
                "glue line",
                "",
                Some(length),
                count,
                &parts,
            ));
        }
        artifact(Exporter::id(self), "hardware", &rows)
    }
}

fn row(
    units: ListUnits,
    what: &str,
    gauge: &str,
    length: Option<f64>,
    count: u32,
    parts: &[String],
) -> Vec<Cell> {
    let mut row = vec![Cell::text(what), Cell::text(gauge)];
    row.extend(length_cells(units, &[length]));
    row.push(Cell::count(count));
    row.push(Cell::Text(parts.join("; ")));
    row
}
