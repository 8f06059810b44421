//! `cutting-pdf`: pages for who stands at the saw.

use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::plan::Plan;
use jigless_model::sheets::{Settings, micrometres};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::job::Job;
use super::shelf;
use super::{pages, suits};
use crate::codes;
use crate::drawing::measure::{Lengths, PaperUnits};
use crate::drawing::{Tint, vet};
use crate::option_check::{self, refused};
use crate::pdf::Paper;
use crate::pdf::document_facts::DocumentFacts;
use crate::pdf::paint;
use crate::saw_options::SawOptions;

/// Pages for cutting at a saw.
#[derive(Debug, Clone, Copy)]
pub struct CuttingPdf;

/// Options of `cutting-pdf`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct CuttingPdfOptions {
    /// Paper to print on; not a roll.
    pub paper: Paper,
    /// Units of the numbers on paper. `plan` is the plan's own: millimetres, or inches and fractions.
    pub units: PaperUnits,
    /// Fractions of an inch go down to one over this: 8, 16, 32 or 64.
    #[schemars(range(min = 8, max = 64))]
    pub fractions: u32,
    /// Inks: black and greys, or colour for pieces; lines are always black.
    pub inks: Tint,
    /// Also writes `offcuts.yaml`: what is left over once all is cut, for `--offcuts` with the next plan.
    pub shelf: bool,
    /// How sheets and boards are sawn.
    #[serde(flatten)]
    pub saw: SawOptions,
}

impl Default for CuttingPdfOptions {
    fn default() -> Self {
        Self {
            paper: Paper::A4,
            units: PaperUnits::Plan,
            fractions: 64,
            inks: Tint::Grey,
            shelf: false,
            saw: SawOptions::default(),
        }
    }
}

impl Exporter for CuttingPdf {
    type Options = CuttingPdfOptions;

    fn id(&self) -> &'static str {
        "cutting-pdf"
    }

    fn summary(&self) -> &'static str {
        "pages for cutting at a saw: cut list, each sheet and board as a picture, and every cut in words; suits plans of wood and board not for router or laser, with the sizes of every stock"
    }

    fn stage(&self) -> Stage {
        Stage::Sheet
    }

    fn suits(&self, plan: &Plan) -> bool {
        suits::saw(plan)
    }

    fn arranging(&self, options: &CuttingPdfOptions) -> Option<Settings> {
        Some(options.saw.settings())
    }

    fn vet(&self, input: &ExportInput, options: &CuttingPdfOptions) -> Findings {
        let mut findings = Findings::new();
        if options.paper.format().is_none() {
            let message = "`paper` cannot be `roll` for cutting pages";
            findings.push(refused(
                codes::OPTION_OUT_OF_RANGE,
                message,
                "give a size of sheets, such as `a4` or `letter`",
            ));
        }
        option_check::fractions("fractions", options.fractions, &mut findings);
        options.saw.vet(&mut findings);
        SawOptions::ask_for_sizes(input, &mut findings);
        vet::words(input, &mut findings);
        findings
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &CuttingPdfOptions,
    ) -> Result<Vec<Artifact>, ExportError> {
        let failed = |message: String| ExportError {
            exporter: Exporter::id(self),
            message,
        };
        let lengths = Lengths::on_paper(input.plan.units, options.units, options.fractions);
        let Some(job) = Job::new(input, lengths, micrometres(options.saw.keep)) else {
            return Ok(Vec::new());
        };
        let format = options.paper.format();
        let format = format.ok_or_else(|| failed("a roll has no pages".to_owned()))?;
        let pages = pages::pages(&job, format, options.inks);
        let title = format!("{} - cutting", input.plan.title);
        let bytes =
            paint::document(&pages, &DocumentFacts::titled(&title), input.stamp).map_err(failed)?;
        let mut artifacts = vec![Artifact {
            path: "cutting.pdf".to_owned(),
            media_type: "application/pdf",
            part: None,
            bytes,
        }];
        artifacts.extend(options.shelf.then(|| shelf::file(&job)));
        Ok(artifacts)
    }
}
