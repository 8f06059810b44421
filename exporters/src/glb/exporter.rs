//! The exporter: one file.

use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Plan;
use jigless_solid::pieces;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{container, model};
use crate::placed::has_places;

/// The whole as a model.
#[derive(Debug, Clone, Copy)]
pub struct Glb;

/// What can be chosen of the model.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct GlbOptions {
    /// Whether all pieces have the same grey material, instead of one for each stock.
    pub plain: bool,
}

impl Exporter for Glb {
    type Options = GlbOptions;

    fn id(&self) -> &'static str {
        "glb"
    }

    fn summary(&self) -> &'static str {
        "the whole as a 3-D model (glTF 2.0), a node for each piece; for plans whose parts have places"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn suits(&self, plan: &Plan) -> bool {
        has_places(plan)
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &GlbOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let pieces = pieces(input.plan, input.workpieces);
        if pieces.is_empty() {
            return Ok(Vec::new());
        }
        let (json, binary) =
            model::document(input, &pieces, options.plain).map_err(|message| ExportError {
                exporter: Exporter::id(self),
                message,
            })?;
        Ok(vec![Artifact {
            path: "model.glb".to_owned(),
            media_type: "model/gltf-binary",
            part: None,
            bytes: container::packed(&json, binary),
        }])
    }
}
