//! The cut list, as a table and as JSON.

use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::units::{MM_PER_INCH, decimal};
use serde_json::json;

use super::cut_parts::cut_parts;
use super::{ListOptions, ListUnits, table};

/// The cut list as a table.
#[derive(Debug, Clone, Copy)]
pub struct CutListCsv;

impl Exporter for CutListCsv {
    type Options = ListOptions;

    fn id(&self) -> &'static str {
        "cutlist-csv"
    }

    fn summary(&self) -> &'static str {
        "cut list as a table: count, stock, finished sizes, edges to trim, joints"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &ListOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let mut heads = vec![
            "part".to_owned(),
            "title".to_owned(),
            "count".to_owned(),
            "stock".to_owned(),
        ];
        heads.extend(options.units.heads(&["length", "width", "thickness"]));
        heads.extend(["grain", "trim_edges", "joints"].map(str::to_owned));
        let rows = cut_parts(input).into_iter().map(|part| {
            let mut row = vec![
                part.part,
                part.title,
                part.count.to_string(),
                part.stock_label,
            ];
            let sizes = [part.length_mm, part.width_mm, part.thickness_mm].map(Some);
            row.extend(options.units.cells(&sizes));
            let grain = if part.grain == jigless_model::plan::Grain::None {
                "any way"
            } else {
                "along the length"
            };
            row.push(grain.to_owned());
            row.push(part.trim.join(" "));
            row.push(part.joints.join("; "));
            row
        });
        table(
            Exporter::id(self),
            "cutlist",
            std::iter::once(heads).chain(rows),
        )
    }
}

/// The cut list as JSON.
#[derive(Debug, Clone, Copy)]
pub struct CutListJson;

impl Exporter for CutListJson {
    type Options = ListOptions;

    fn id(&self) -> &'static str {
        "cutlist-json"
    }

    fn summary(&self) -> &'static str {
        "cut list as JSON, for other programs"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &ListOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let parts: Vec<serde_json::Value> = cut_parts(input)
            .iter()
            .map(|part| {
                let mut value = json!(part);
                sizes(&mut value, options.units);
                value
            })
            .collect();
        let plan = input.plan;
        let list = json!({
            "title": plan.title,
            "revision": plan.revision,
            "plan": plan.digest,
            "parts": parts,
        });
        let mut bytes = serde_json::to_vec_pretty(&list).map_err(|error| ExportError {
            exporter: Exporter::id(self),
            message: error.to_string(),
        })?;
        bytes.push(b'\n');
        Ok(vec![Artifact {
            path: "cutlist.json".to_owned(),
            media_type: "application/json",
            part: None,
            bytes,
        }])
    }
}

/// Puts the sizes into the units that are asked for, to the places that a table has.
fn sizes(part: &mut serde_json::Value, units: ListUnits) {
    let Some(part) = part.as_object_mut() else {
        return;
    };
    let rounded =
        |value: f64, places: usize| decimal(value, places).parse::<f64>().unwrap_or(value);
    for name in ["length", "width", "thickness"] {
        let key = format!("{name}_mm");
        let Some(mm) = part.get(&key).and_then(serde_json::Value::as_f64) else {
            continue;
        };
        if units == ListUnits::In {
            part.remove(&key);
        } else {
            part.insert(key, json!(rounded(mm, 2)));
        }
        if units != ListUnits::Mm {
            part.insert(format!("{name}_in"), json!(rounded(mm / MM_PER_INCH, 4)));
        }
    }
}
