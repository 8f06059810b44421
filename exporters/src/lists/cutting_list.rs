//! The cutting list, as a table and as JSON.

use jigless_model::caution::{Medium, called_for, sentences};
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Grain;
use serde_json::{Value, json};

use super::cut_parts::{CutPart, cut_parts};
use super::options::{ListOptions, ListUnits};
use super::table::{self, Cell, artifact, length_cells, length_heads, rounded};
use crate::json_file::json_file;

/// The cutting list as a table.
#[derive(Debug, Clone, Copy)]
pub struct CuttingListCsv;

impl Exporter for CuttingListCsv {
    type Options = ListOptions;

    fn id(&self) -> &'static str {
        "cutting-list-csv"
    }

    fn summary(&self) -> &'static str {
        "cutting list as a table: mark, count, stock, finished sizes, weight, edges to trim, joints, the steps that use each part"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &ListOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let mut heads: Vec<Cell> = ["mark", "part", "title", "count", "stock"]
            .map(Cell::text)
            .into();
        heads.extend(length_heads(
            options.units,
            &["length", "width", "thickness"],
        ));
        heads.extend(
            [
                "weight_kg",
                "grain",
                "trim_edges",
                "joints",
                "steps",
                "cautions",
            ]
            .map(Cell::text),
        );
        let mut rows = vec![heads];
        rows.extend(cut_parts(input).into_iter().map(|part| {
            let mut row = vec![
                Cell::Text(part.mark),
                Cell::Text(part.part),
                Cell::Text(part.title),
                Cell::count(part.count),
                Cell::Text(part.stock_label),
            ];
            let sizes = [part.length_mm, part.width_mm, part.thickness_mm].map(Some);
            row.extend(length_cells(options.units, &sizes));
            row.push(
                part.weight_kg
                    .map_or(Cell::Empty, |weight| Cell::Number(weight, 2)),
            );
            row.push(Cell::text(match part.grain {
                Grain::None => "any way",
                Grain::Width | Grain::Height => "along the length",
            }));
            row.push(Cell::Text(part.trim.join(" ")));
            row.push(Cell::Text(part.joints.join("; ")));
            row.push(Cell::Text(table::numbers(&part.steps)));
            row.push(Cell::Text(part.cautions));
            row
        }));
        artifact(Exporter::id(self), "cutting-list", &rows)
    }
}

/// The cutting list as JSON.
#[derive(Debug, Clone, Copy)]
pub struct CuttingListJson;

impl Exporter for CuttingListJson {
    type Options = ListOptions;

    fn id(&self) -> &'static str {
        "cutting-list-json"
    }

    fn summary(&self) -> &'static str {
        "cutting list as JSON, for other programs"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &ListOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let parts = cut_parts(input);
        let parts: Vec<Value> = parts.iter().map(|part| json(part, options.units)).collect();
        let plan = input.plan;
        let list = json!({
            "title": plan.title,
            "revision": plan.revision,
            "plan": plan.digest,
            "cautions": sentences(&called_for(plan, input.workpieces, Medium::Parts)),
            "parts": parts,
        });
        json_file(Exporter::id(self), "cutting-list.json", &list)
    }
}

/// A line of the list, with its sizes in the units that are asked for, to the places that a table has.
fn json(part: &CutPart, units: ListUnits) -> Value {
    let mut json = json!({
        "mark": part.mark,
        "part": part.part,
        "title": part.title,
        "count": part.count,
        "stock": part.stock,
        "stock_label": part.stock_label,
        "grain": part.grain,
        "trim": part.trim,
        "joints": part.joints,
        "steps": part.steps,
    });
    for (name, mm) in [
        ("length", part.length_mm),
        ("width", part.width_mm),
        ("thickness", part.thickness_mm),
    ] {
        for unit in units.units() {
            json[format!("{name}_{}", unit.symbol())] = json!(rounded(mm, *unit));
        }
    }
    if let Some(weight) = part.weight_kg {
        json["weight_kg"] = json!((weight * 100.0).round() / 100.0);
    }
    json
}
