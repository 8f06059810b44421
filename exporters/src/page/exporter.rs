//! The exporter: one file.

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Plan;
use jigless_model::sheets::Settings;

use super::frame::page;
use crate::cutting::is_for_saw;
use crate::document::{DocumentOptions, InLanguage, document};
use crate::viewer::viewer_data;

/// The document of a plan as a page.
#[derive(Debug, Clone, Copy)]
pub struct PageHtml;

impl Exporter for PageHtml {
    type Options = DocumentOptions;

    fn id(&self) -> &'static str {
        "page-html"
    }

    fn summary(&self) -> &'static str {
        "a page to read, on any screen and without a network: what you need, cutting, parts, steps with pictures, checks"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn suits(&self, plan: &Plan) -> bool {
        !plan.joints.is_empty() || is_for_saw(plan)
    }

    fn arranging(&self, options: &Self::Options) -> Option<Settings> {
        Some(options.saw.settings())
    }

    fn vet(&self, _: &ExportInput, options: &Self::Options) -> Findings {
        options.faults()
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let words = options.language.words(input.plan);
        let plan = InLanguage::new(input, words);
        let document = document(&plan.input(), options);
        let view = viewer_data(&plan.input(), words).map_err(|message| ExportError {
            exporter: Exporter::id(self),
            message,
        })?;
        Ok(vec![Artifact {
            path: "index.html".to_owned(),
            media_type: "text/html",
            part: None,
            bytes: page(&document, view.as_deref()).into_bytes(),
        }])
    }
}
