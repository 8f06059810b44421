//! The list of hardware.

use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::hardware::count;

use super::{ListOptions, table};

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
        let mut heads = vec!["what".to_owned(), "gauge".to_owned()];
        heads.extend(options.units.heads(&["length"]));
        heads.extend(["count", "parts"].map(str::to_owned));
        let mut rows = vec![heads];
        for line in count(input.workpieces) {
            let fitting = &line.fitting;
            let mut row = vec![
                fitting.kind.name().to_owned(),
                fitting.gauge.clone().unwrap_or_default(),
            ];
            row.extend(options.units.cells(&[fitting.length]));
            row.push(fitting.count.to_string());
            let parts = line
                .parts
                .iter()
                .map(|(part, count)| format!("{part} {count}"));
            row.push(parts.collect::<Vec<_>>().join("; "));
            rows.push(row);
        }
        let glued: Vec<_> = input
            .plan
            .joints
            .iter()
            .filter(|joint| joint.glue.is_some())
            .collect();
        if !glued.is_empty() {
            let mut row = vec!["glue line".to_owned(), String::new()];
            row.extend(
                options
                    .units
                    .cells(&[Some(glued.iter().filter_map(|joint| joint.glue).sum())]),
            );
            row.push(
                glued
                    .iter()
                    .map(|joint| joint.count)
                    .sum::<u32>()
                    .to_string(),
            );
            let parts = glued
                .iter()
                .map(|joint| format!("{} to {}", joint.part, joint.to));
            row.push(parts.collect::<Vec<_>>().join("; "));
            rows.push(row);
        }
        table(Exporter::id(self), "hardware", rows)
    }
}
