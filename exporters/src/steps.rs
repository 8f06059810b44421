//! The order of work, as text to tick off and as JSON.

use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Plan;
use jigless_steps::{in_words, order_of_work};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::json_file::json_file;

/// The order of work as JSON.
#[derive(Debug, Clone, Copy)]
pub struct StepsJson;

/// The order of work as text.
#[derive(Debug, Clone, Copy)]
pub struct StepsText;

/// Steps have nothing to choose.
#[derive(Debug, Clone, Default, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct StepsOptions {}

/// Where nothing is put together, there is no order to tell.
fn is_put_together(plan: &Plan) -> bool {
    !plan.joints.is_empty()
}

impl Exporter for StepsText {
    type Options = StepsOptions;

    fn id(&self) -> &'static str {
        "steps-text"
    }

    fn summary(&self) -> &'static str {
        "order of work as text with boxes to tick: cutting, work on each part, assembly, hardware, finish; suits plans with joints"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn suits(&self, plan: &Plan) -> bool {
        is_put_together(plan)
    }

    fn export(
        &self,
        input: &ExportInput,
        _options: &StepsOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let order = order_of_work(input.plan, input.workpieces);
        let text = in_words(&order, input.plan.units);
        Ok(vec![Artifact {
            path: "steps.txt".to_owned(),
            media_type: "text/plain",
            part: None,
            bytes: text.into_bytes(),
        }])
    }
}

impl Exporter for StepsJson {
    type Options = StepsOptions;

    fn id(&self) -> &'static str {
        "steps-json"
    }

    fn summary(&self) -> &'static str {
        "order of work as JSON, for other programs; suits plans with joints"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn suits(&self, plan: &Plan) -> bool {
        is_put_together(plan)
    }

    fn export(
        &self,
        input: &ExportInput,
        _options: &StepsOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let order = order_of_work(input.plan, input.workpieces);
        json_file(Exporter::id(self), "steps.json", &order)
    }
}
