//! The exporter: one file.

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Plan;
use jigless_model::units::Unit;

use super::options::PdfDrawingsOptions;
use super::sheet::Drawing;
use crate::drawing::measure::Lengths;
use crate::drawing::vet;
use crate::option_check;
use crate::pdf::document_facts::DocumentFacts;
use crate::pdf::{PageFormat, PaperSheet, document};
use crate::placed::has_places;
use crate::views::Whole;

/// Drawings of the whole.
#[derive(Debug, Clone, Copy)]
pub struct PdfDrawings;

impl Exporter for PdfDrawings {
    type Options = PdfDrawingsOptions;

    fn id(&self) -> &'static str {
        "pdf-drawings"
    }

    fn summary(&self) -> &'static str {
        "drawings of the whole: three views with dimensions, sections, exploded views with a parts list; for plans whose parts have places"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn suits(&self, plan: &Plan) -> bool {
        has_places(plan)
    }

    fn vet(&self, input: &ExportInput, options: &Self::Options) -> Findings {
        let mut findings = Findings::new();
        option_check::fractions("fractions", options.fractions, &mut findings);
        vet::words(input, &mut findings);
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let sheets = sheets(input, options);
        if sheets.is_empty() {
            return Ok(Vec::new());
        }
        let title = format!("{} - drawings", input.plan.title);
        let bytes =
            document(&sheets, &DocumentFacts::titled(&title), input.stamp).map_err(|message| {
                ExportError {
                    exporter: Exporter::id(self),
                    message,
                }
            })?;
        Ok(vec![Artifact {
            path: "drawings.pdf".to_owned(),
            media_type: "application/pdf",
            part: None,
            bytes,
        }])
    }
}

/// The sheets; none where no part has a place.
fn sheets(input: &ExportInput, options: &PdfDrawingsOptions) -> Vec<PaperSheet> {
    let whole = Whole::new(input);
    let (paper, across) = options.paper.chosen(input.plan.units == Unit::Inch);
    let Some((width, height)) = paper.size() else {
        return Vec::new();
    };
    let drawing = Drawing {
        input,
        options,
        whole: &whole,
        format: PageFormat {
            size: if across {
                (height, width)
            } else {
                (width, height)
            },
            scale: (1.0, 1.0),
            blank: (0.0, 0.0),
        },
        lengths: Lengths::on_paper(input.plan.units, options.units, options.fractions),
    };
    drawing.sheets()
}

/// The sheets on some paper, with everything else as it comes.
#[cfg(test)]
pub(crate) fn sheets_for_tests(input: &ExportInput, paper: &str) -> Vec<PaperSheet> {
    let options = PdfDrawingsOptions {
        paper: serde_json::from_value(paper.into()).expect("a paper"),
        ..PdfDrawingsOptions::default()
    };
    sheets(input, &options)
}
