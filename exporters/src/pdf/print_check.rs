//! The check sheet alone.

use jigless_model::export::{ExportError, Exporter, Stamp};

use super::check_sheet::{self, CheckSheetText};
use super::document_facts::DocumentFacts;
use super::exporter::PdfTemplate;
use super::options::PdfTemplateOptions;
use super::paint;

/// The check sheet alone: bars and outlines to measure a printer by.
///
/// # Errors
/// When the library that writes PDF fails.
pub fn print_check(options: &PdfTemplateOptions, stamp: &Stamp) -> Result<Vec<u8>, ExportError> {
    let correction = options.correction();
    let format = options.check_sheet_format();
    let text = CheckSheetText {
        title: options.printer.clone(),
        facts: Vec::new(),
        has_templates: false,
        cautions: Vec::new(),
        index: &[],
        correction: correction.as_deref(),
    };
    let sheet = check_sheet::draw(format, &text).sheet;
    paint::document(&[sheet], &DocumentFacts::titled("Check sheet"), stamp).map_err(|message| {
        ExportError {
            exporter: Exporter::id(&PdfTemplate),
            message,
        }
    })
}
