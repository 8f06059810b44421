//! The exporter: a file for each part.

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::workpiece::Workpiece;

use super::correction;
use super::options::PdfTemplateOptions;
use super::paint;
use super::part_pages::lay_out;
use crate::drawing::vet;
use crate::option_check::{self, in_range, length_in_range};

/// Full-size templates.
#[derive(Debug)]
pub struct PdfTemplate;

impl Exporter for PdfTemplate {
    type Options = PdfTemplateOptions;

    fn id(&self) -> &'static str {
        "pdf-template"
    }

    fn summary(&self) -> &'static str {
        "full-size drilling templates to print on ordinary paper, one file for each part"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn vet(&self, input: &ExportInput, options: &Self::Options) -> Findings {
        let mut findings = Findings::new();
        length_in_range("overlap", options.overlap, (5.0, 30.0), &mut findings);
        length_in_range(
            "roll_width",
            options.roll_width,
            (210.0, 1600.0),
            &mut findings,
        );
        let scale = (1.0 - correction::MOST, 1.0 + correction::MOST);
        in_range(
            "scale_across",
            options.scale_across,
            scale,
            "",
            &mut findings,
        );
        in_range("scale_feed", options.scale_feed, scale, "", &mut findings);
        option_check::fractions("fractions", options.fractions, &mut findings);
        vet::words(input, &mut findings);
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let part = |workpiece: &Workpiece| {
            let sheets = lay_out(input, workpiece, options);
            let title = format!("{} - {}", input.plan.title, workpiece.part.title);
            let bytes =
                paint::document(&sheets, &title, input.stamp).map_err(|message| ExportError {
                    exporter: Exporter::id(self),
                    message,
                })?;
            Ok(Artifact {
                path: format!("{}.pdf", workpiece.part.id),
                media_type: "application/pdf",
                part: Some(workpiece.part.id.clone()),
                bytes,
            })
        };
        input.workpieces.iter().map(part).collect()
    }
}
