//! The exporter of pictures of steps: a file for each step that adds pieces.

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage as ExportStage};
use jigless_model::plan::Plan;

use super::options::SvgStepsOptions;
use super::page::Page;
use super::scene::{Marking, Whole};
use super::stages::stages;
use crate::placed::has_places;

/// Pictures of the order of work.
#[derive(Debug, Clone, Copy)]
pub struct SvgSteps;

impl Exporter for SvgSteps {
    type Options = SvgStepsOptions;

    fn id(&self) -> &'static str {
        "svg-steps"
    }

    fn summary(&self) -> &'static str {
        "a picture of each step that adds pieces, what comes new in blue; for plans with joints whose parts have places"
    }

    fn stage(&self) -> ExportStage {
        ExportStage::Plan
    }

    fn suits(&self, plan: &Plan) -> bool {
        has_places(plan) && !plan.joints.is_empty()
    }

    fn vet(&self, _: &ExportInput, options: &Self::Options) -> Findings {
        options.look.faults()
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let whole = Whole::new(input);
        let steps = jigless_steps::steps(input.plan, input.workpieces, &jigless_words::ENGLISH);
        let page = Page::new(input, &options.look);
        let camera = options.look.camera();
        let stages = stages(input.plan, &whole, &steps);
        let file = stages.iter().map(|stage| {
            let scene = whole.coming_in(&stage.there, &stage.new, &camera);
            let name = format!("{:02}-{}", stage.step.number, stage.step.name);
            let title = format!(
                "{}, step {}: {}",
                input.plan.title, stage.step.number, stage.step.title
            );
            page.picture(&name, &title, &[&scene], &camera, Marking::Accents)
                .svg()
        });
        Ok(file.collect())
    }
}
