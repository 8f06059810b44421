//! `pdf-template`: full-size templates to print, tape on and drill through.
//!
//! [`template`] draws a face and splits it over pages; [`tile_page`], [`check_sheet`] and [`hole_list`] lay the pages
//! out as [`sheet::Sheet`]s; [`paint`] turns sheets into a PDF and knows nothing of parts; [`finish`] adds what the
//! library that writes PDF has no words for.

mod check_sheet;
mod embed;
mod finish;
mod hole_list;
mod page_map;
mod paint;
mod paper;
mod seams;
mod sheet;
mod template;
mod tile_page;
mod tiling;

use jigless_core::diag::Findings;
use jigless_core::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_core::side::Face;
use jigless_core::workpiece::Workpiece;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use paper::{Orientation, Paper};

use crate::drawing::{Tint, vet};
use hole_list::HoleList;
use sheet::Sheet;
use template::Template;

/// Full-size templates.
#[derive(Debug)]
pub struct PdfTemplate;

/// What can be chosen of the templates.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct PdfTemplateOptions {
    /// Paper to print on.
    pub paper: Paper,
    /// Width of the roll, in millimetres; only with `paper: roll`.
    #[schemars(range(min = 210.0, max = 1600.0))]
    pub roll_width: f64,
    /// Which way up the pages are.
    pub orientation: Orientation,
    /// How far a page goes on beyond a seam, in millimetres: the strip under its neighbour.
    #[schemars(range(min = 5.0, max = 30.0))]
    pub overlap: f64,
    /// Whether the first page is a check sheet with long bars, page map and hole list.
    pub check_sheet: bool,
    /// Inks: black and greys, or colour for areas and hand work.
    pub inks: Tint,
}

impl Default for PdfTemplateOptions {
    fn default() -> Self {
        Self {
            paper: Paper::A4,
            roll_width: 610.0,
            orientation: Orientation::Auto,
            overlap: 10.0,
            check_sheet: true,
            inks: Tint::Grey,
        }
    }
}

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
        let id = Exporter::id(self);
        let mut findings = vet::number(id, "overlap", options.overlap, (5.0, 30.0));
        findings.extend(vet::number(
            id,
            "roll_width",
            options.roll_width,
            (210.0, 1600.0),
        ));
        findings.extend(vet::words(input));
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

/// The pages of a part: the check sheet, the rest of the hole list, the front, and the back where there is work on it.
fn lay_out(input: &ExportInput, workpiece: &Workpiece, options: &PdfTemplateOptions) -> Vec<Sheet> {
    let templates: Vec<Template> = Face::ALL
        .into_iter()
        .filter(|face| *face == Face::Front || workpiece.has_work_on(*face))
        .map(|face| Template::new(input, workpiece, face, options))
        .collect();
    let mut tiles = Vec::new();
    let mut homeless = Vec::new();
    for template in &templates {
        for index in 0..template.tiles.len() {
            let (sheet, mut without) = tile_page::draw(template, index, options.inks.into());
            tiles.push(sheet);
            homeless.append(&mut without);
        }
    }
    let told = options.check_sheet || !homeless.is_empty();
    let list = HoleList::new(&templates, homeless);
    if !told {
        return tiles;
    }
    let size = paper::check_sheet_size(options);
    let mut taken = 0;
    if options.check_sheet {
        // Laid out once to see how much of the list it takes: how many pages there are is written on it.
        taken = check_sheet::draw(size, &templates, &list, 0).1;
    }
    let mut lists = Vec::new();
    while taken < list.len() {
        let (sheet, now) = list.page(size, taken);
        if now == taken {
            break;
        }
        lists.push(sheet);
        taken = now;
    }
    let mut sheets = Vec::new();
    if options.check_sheet {
        let pages = 1 + lists.len() + tiles.len();
        sheets.push(check_sheet::draw(size, &templates, &list, pages).0);
    }
    sheets.append(&mut lists);
    sheets.append(&mut tiles);
    sheets
}
