//! `pdf-template`: full-size templates to print, tape on and drill through.
//!
//! [`template_maker`] draws a face and splits it over pages; [`tile_page`], [`check_sheet`] and [`hole_list`] lay the
//! pages out as [`paper_sheet`]s, [`part_pages`] all of a part; [`paint`] turns sheets into a PDF and knows nothing of
//! parts, with [`content`] for what a page draws; [`finish`] adds what the library that writes PDF has no words for.

mod beside;
pub(crate) mod card;
mod check_sheet;
mod content;
mod correction;
mod details;
mod embed;
mod exporter;
mod finish;
mod hole_list;
mod local;
mod options;
pub(crate) mod page_format;
pub(crate) mod page_frame;
mod page_map;
pub(crate) mod paint;
mod paper;
pub(crate) mod paper_sheet;
mod part_pages;
mod print_check;
mod registration;
mod seams;
mod template;
mod template_maker;
#[cfg(test)]
mod tests;
mod tile_page;
mod tiling;

pub use correction::{CorrectionFault, PrinterCorrection};
pub use exporter::PdfTemplate;
pub use options::PdfTemplateOptions;
pub use paper::{Orientation, Paper, Scope};
pub use print_check::print_check;

pub(crate) use page_format::PageFormat;
pub(crate) use paint::document;
pub(crate) use paper_sheet::PaperSheet;
