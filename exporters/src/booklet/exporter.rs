//! The exporter: one file.

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Plan;
use jigless_model::sheets::Settings;

use super::options::BookletOptions;
use super::pages::booklet;
use crate::cutting::is_for_saw;
use crate::document::{InLanguage, document};
use crate::drawing::vet;
use crate::pdf::{BookFacts, book};

/// The document of a plan as a booklet.
#[derive(Debug, Clone, Copy)]
pub struct BookletPdf;

impl Exporter for BookletPdf {
    type Options = BookletOptions;

    fn id(&self) -> &'static str {
        "booklet-pdf"
    }

    fn summary(&self) -> &'static str {
        "a booklet to build from: what you need, cutting, parts, steps with pictures and boxes to tick, checks; suits plans with joints and plans for a saw"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn suits(&self, plan: &Plan) -> bool {
        !plan.joints.is_empty() || is_for_saw(plan)
    }

    fn arranging(&self, options: &Self::Options) -> Option<Settings> {
        Some(options.document.saw.settings())
    }

    fn vet(&self, input: &ExportInput, options: &Self::Options) -> Findings {
        let mut findings = options.document.faults();
        vet::words(input, &mut findings);
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let plan = InLanguage::new(input, options.document.language.words(input.plan));
        let document = document(&plan.input(), &options.document);
        let made = booklet(&document, options.paper.size(input.plan.units));
        let facts = BookFacts {
            title: &document.title,
            language: document.words.tag,
            bookmarks: &made.bookmarks,
            anchors: &made.anchors,
        };
        let bytes = book(&made.pages, &facts, input.stamp).map_err(|message| ExportError {
            exporter: Exporter::id(self),
            message,
        })?;
        Ok(vec![Artifact {
            path: "booklet.pdf".to_owned(),
            media_type: "application/pdf",
            part: None,
            bytes,
        }])
    }
}
