//! The exporters of the drawings of parts: all in one PDF, or a file of SVG for each part.

use jigless_model::caution::{Medium, called_for};
use jigless_model::diag::Findings;
use jigless_model::export::{Artifact, ExportError, ExportInput, Exporter, Stage};
use jigless_model::geom::Bounds;

use super::part_options::PartDrawingOptions;
use super::part_sheet::{sheet, size_of};
use crate::cautions;
use crate::drawing::vet;
use crate::option_check;
use crate::pdf::document;
use crate::pdf::document_facts::DocumentFacts;
use crate::svg::paint;

/// A reduced drawing of each part, a page each.
#[derive(Debug)]
pub struct PdfPartDrawings;

/// A reduced drawing of each part, a file each.
#[derive(Debug)]
pub struct SvgDrawing;

fn vetted(input: &ExportInput, options: &PartDrawingOptions) -> Findings {
    let mut findings = Findings::new();
    option_check::fractions("fractions", options.fractions, &mut findings);
    vet::words(input, &mut findings);
    findings
}

impl Exporter for PdfPartDrawings {
    type Options = PartDrawingOptions;

    fn id(&self) -> &'static str {
        "pdf-part-drawings"
    }

    fn summary(&self) -> &'static str {
        "a reduced drawing of each part with ordinates, radii and depths, a page each"
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn vet(&self, input: &ExportInput, options: &Self::Options) -> Findings {
        vetted(input, options)
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let count = input.workpieces.len();
        let parts = input.workpieces.iter().enumerate();
        let sheets: Vec<_> = parts
            .map(|(index, workpiece)| sheet(input, workpiece, (index + 1, count), options))
            .collect();
        if sheets.is_empty() {
            return Ok(Vec::new());
        }
        let titles = input
            .workpieces
            .iter()
            .map(|workpiece| workpiece.part.title.clone());
        let about = DocumentFacts {
            bookmarks: titles
                .enumerate()
                .map(|(page, title)| (title, page))
                .collect(),
            ..DocumentFacts::titled(&format!("{} - parts", input.plan.title))
        };
        let bytes = document(&sheets, &about, input.stamp).map_err(|message| ExportError {
            exporter: Exporter::id(self),
            message,
        })?;
        Ok(vec![Artifact {
            path: "part-drawings.pdf".to_owned(),
            media_type: "application/pdf",
            part: None,
            bytes,
        }])
    }
}

impl Exporter for SvgDrawing {
    type Options = PartDrawingOptions;

    fn id(&self) -> &'static str {
        "svg-drawing"
    }

    fn summary(&self) -> &'static str {
        "a reduced drawing of each part with ordinates, radii and depths, a file each"
    }

    fn stage(&self) -> Stage {
        Stage::Part
    }

    fn vet(&self, input: &ExportInput, options: &Self::Options) -> Findings {
        vetted(input, options)
    }

    fn export(
        &self,
        input: &ExportInput,
        options: &Self::Options,
    ) -> Result<Vec<Artifact>, ExportError> {
        let drawn = input.workpieces.iter().map(|workpiece| {
            let part = &workpiece.part;
            let drawn = sheet(input, workpiece, (1, 1), options);
            let (width, height) = size_of(&drawn);
            let title = format!("{}, reduced", part.title);
            let said = called_for(input.plan, std::slice::from_ref(workpiece), Medium::ByHand);
            let said = cautions::description(&said);
            let canvas = Bounds::of_size(width, height);
            Artifact {
                path: format!("{}.svg", part.id),
                media_type: "image/svg+xml",
                part: Some(part.id.clone()),
                bytes: paint::document(canvas, &title, &said, &drawn.items).into_bytes(),
            }
        });
        Ok(drawn.collect())
    }
}
