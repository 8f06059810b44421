//! The formats that Jigless writes, one module each, and the list of them.
//!
//! Adding one means a module that implements [`Exporter`](jigless_model::export::Exporter) and a line in [`EXPORTERS`].

mod booklet;
mod cautions;
mod codes;
mod cutting;
mod document;
mod drawing;
mod drawings;
mod file_name;
mod glb;
mod html;
pub mod inspect;
mod json_file;
mod lists;
mod machine;
mod option_check;
mod overlay;
mod page;
mod pdf;
mod placed;
mod raster;
mod saw_options;
mod shades;
mod steps;
mod stock_sizes;
mod surface;
mod svg;
mod used_in;
mod view_edge;
mod viewer;
mod views;

pub use booklet::{BookletOptions, BookletPaper, BookletPdf};
pub use codes::CODES;
pub use cutting::{
    CuttingJson, CuttingJsonOptions, CuttingPdf, CuttingPdfOptions, CuttingSvg, CuttingSvgOptions,
};
pub use document::{DocumentLanguage, DocumentOptions};
pub use drawing::Tint;
pub use drawing::measure::PaperUnits;
pub use drawings::{
    PartDrawingOptions, PdfDrawings, PdfDrawingsOptions, PdfPartDrawings, SheetPaper, SvgDrawing,
};
pub use glb::{Glb, GlbOptions};
pub use html::escaped;
pub use lists::{
    BuyingListCsv, BuyingListOptions, Checklist, CuttingListCsv, CuttingListJson, HardwareCsv,
    ListOptions, ListUnits, SummaryOptions, SummaryText, summary,
};
pub use machine::coupon;
pub use machine::{
    Arrange, CutOrder, DxfCnc, DxfCncOptions, DxfFile, DxfLaser, DxfLaserOptions, FileOrigin,
    FileUnits, Kerf, KerfRule, LaserOptions, LayerKind, LayerStyle, NgcRouter, NgcRouterOptions,
    PartIds, Relief, RouterOptions, SheetLayout, SvgLaser, SvgLaserOptions, Tool, ToolKind,
    Version,
};
pub use machine::{Proof, png_of, prove_for_plan, prove_on_sheet};
pub use overlay::overlay;
pub use page::PageHtml;
pub use pdf::{
    CorrectionFault, Orientation, Paper, PdfTemplate, PdfTemplateOptions, PrinterCorrection,
    Readings, Scope, print_check,
};
pub use saw_options::SawOptions;
pub use steps::{StepsJson, StepsOptions, StepsText};
pub use svg::{SvgDrilling, SvgDrillingOptions, Variant};
pub use viewer::{VIEWER_SCRIPT, VIEWER_STYLE, viewer_data, viewer_markup};
pub use views::{
    LookOptions, PngViews, PngViewsOptions, Projection, Section, SvgSteps, SvgStepsOptions,
    SvgViews, SvgViewsOptions, versions,
};

use jigless_model::export::AnyExporter;

/// Every exporter, in the order in which they are listed and run.
pub static EXPORTERS: &[&dyn AnyExporter] = &[
    &DxfCnc,
    &NgcRouter,
    &DxfLaser,
    &SvgLaser,
    &SvgDrilling,
    &PdfTemplate,
    &CuttingPdf,
    &CuttingSvg,
    &CuttingJson,
    &CuttingListCsv,
    &CuttingListJson,
    &HardwareCsv,
    &BuyingListCsv,
    &SummaryText,
    &Checklist,
    &StepsText,
    &StepsJson,
    &SvgViews,
    &PngViews,
    &SvgSteps,
    &PdfDrawings,
    &PdfPartDrawings,
    &SvgDrawing,
    &Glb,
    &BookletPdf,
    &PageHtml,
];

/// Former ids of exporters, each with today's.
const RENAMED: [(&str, &str); 3] = [
    ("cutlist-csv", "cutting-list-csv"),
    ("cutlist-json", "cutting-list-json"),
    ("buying-list", "buying-list-csv"),
];

/// Today's id of an exporter that had another one in an earlier version.
pub fn renamed(former: &str) -> Option<&'static str> {
    let mut found = RENAMED.iter().filter(|(id, _)| *id == former);
    found.next().map(|(_, today)| *today)
}

/// The exporter with an id.
pub fn exporter(id: &str) -> Option<&'static dyn AnyExporter> {
    EXPORTERS
        .iter()
        .find(|exporter| exporter.id() == id)
        .copied()
}

#[cfg(test)]
mod tests {
    use super::EXPORTERS;

    #[test]
    fn every_exporter_is_named_once_and_documented() {
        for (index, exporter) in EXPORTERS.iter().enumerate() {
            let id = exporter.id();
            assert!(
                id.chars()
                    .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'),
                "{id}"
            );
            assert!(
                EXPORTERS[..index].iter().all(|other| other.id() != id),
                "{id}"
            );
            assert!(!exporter.summary().is_empty(), "{id}");
            for option in exporter.options() {
                assert!(!option.help.is_empty(), "{id}.{}", option.key);
            }
        }
    }
}
