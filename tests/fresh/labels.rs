//! A list of the parts for a label printer.

use jigless_core::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_core::units::Unit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The format.
#[derive(Debug)]
pub(crate) struct Labels;

/// Options of the format.
#[derive(Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(crate) struct LabelOptions {
    /// Unit of the sizes.
    units: Unit,
}

impl Exporter for Labels {
    type Options = LabelOptions;

    fn id(&self) -> &'static str {
        "labels"
    }

    fn summary(&self) -> &'static str {
        "a line for each part, for a label printer"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &LabelOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let lines = input.workpieces.iter().map(|workpiece| {
            let part = &workpiece.part;
            let (width, height) = (options.units.show(part.width), options.units.show(part.height));
            format!("{} x {}: {width} by {height}\n", part.count, part.title)
        });
        Ok(vec![Artifact {
            path: "labels.txt".to_owned(),
            media_type: "text/plain",
            part: None,
            bytes: lines.collect::<String>().into_bytes(),
        }])
    }
}
