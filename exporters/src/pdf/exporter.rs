//! The exporter: one file for a plan.

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};

use super::correction;
use super::options::PdfTemplateOptions;
use super::paint;
use super::plan_pages::{self, PlanPages};
use super::print_record::{self, PrintRecord};
use crate::codes;
use crate::drawing::vet;
use crate::json_file::json_file;
use crate::option_check::{self, in_range, length_in_range};

/// The file with the templates of all parts.
pub(crate) const TEMPLATES: &str = "templates.pdf";

/// Full-size templates.
#[derive(Debug)]
pub struct PdfTemplate;

impl Exporter for PdfTemplate {
    type Options = PdfTemplateOptions;

    fn id(&self) -> &'static str {
        "pdf-template"
    }

    fn summary(&self) -> &'static str {
        "full-size drilling templates to print on ordinary paper, all in one file"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn vet(&self, input: &ExportInput, options: &Self::Options) -> Findings {
        let mut findings = Findings::new();
        length_in_range("collar", options.collar, (8.0, 60.0), &mut findings);
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
        if !options.since.is_empty() && PrintRecord::read(&options.since).is_none() {
            findings.push(option_check::refused(
                codes::OPTION_OUT_OF_RANGE,
                "`since` is no record of an earlier print".to_owned(),
                "give the text of a `sheets.json`, or leave it to `--since FOLDER`",
            ));
        }
        vet::words(input, &mut findings);
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let PlanPages {
            sheets,
            about,
            record,
        } = plan_pages::lay_out(input, options);
        if sheets.is_empty() {
            // Without a check sheet there may be nothing to print, and no file has no pages.
            return Ok(Vec::new());
        }
        let bytes =
            paint::document(&sheets, &about, input.stamp).map_err(|message| ExportError {
                exporter: Exporter::id(self),
                message,
            })?;
        // A part that was asked for by itself does not take the place of the plan's file.
        let (path, part) = match input.workpieces {
            [only] if input.plan.parts.len() > 1 => {
                let id = only.part.id.clone();
                (format!("{id}.pdf"), Some(id))
            }
            _ => (TEMPLATES.to_owned(), None),
        };
        let mut files = vec![Artifact {
            path,
            media_type: "application/pdf",
            part: part.clone(),
            bytes,
        }];
        if part.is_none() {
            let id = Exporter::id(self);
            files.extend(json_file(id, print_record::FILE, &record)?);
        }
        Ok(files)
    }
}
