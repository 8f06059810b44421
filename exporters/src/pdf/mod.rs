//! `pdf-template`: full-size templates to print, tape on and drill through.
//!
//! [`template_maker`] draws a face and splits it over small templates or pages, each laid out in a [`slot`];
//! [`part_sheets`] stacks those of a face on sheets; [`plan_pages`] puts the [`check_sheet`] with the [`index`] before the
//! sheets of all parts, and the [`hole_list`] after them, as [`paper_sheet`]s; [`paint`] turns sheets into a PDF and knows nothing of
//! parts, with [`content`] for what a page draws; [`finish`] adds what the library that writes PDF has no words for.
//!
//! A document to read is written by [`book`] from [`book_page`]s: everything in embedded fonts ([`book_fonts`]), with links,
//! bookmarks and the tree of what is read in which order ([`book_tree`]).

mod beside;
mod book;
mod book_fonts;
pub(crate) mod book_page;
mod book_tree;
mod by_rule;
pub(crate) mod card;
mod check_sheet;
mod content;
mod correction;
mod details;
pub(crate) mod document_facts;
mod drill_order;
mod edges;
mod embed;
mod exporter;
mod fingerprint;
mod finish;
mod guide_block;
mod hole_list;
mod in_place;
mod index;
mod legend;
mod local;
mod options;
pub(crate) mod page_feet;
pub(crate) mod page_format;
pub(crate) mod page_frame;
mod page_map;
pub(crate) mod paint;
mod paper;
pub(crate) mod paper_sheet;
mod part_sheets;
mod photographs;
mod plan_pages;
mod print_check;
mod print_record;
mod registration;
mod repeats;
mod rows;
mod seams;
mod sheet_head;
mod short_names;
mod slot;
mod stack;
mod template;
mod template_maker;
#[cfg(test)]
mod tests;
mod tiling;
mod whole_face;
mod work_box;

pub use correction::{CorrectionFault, PrinterCorrection, Readings};
pub use exporter::PdfTemplate;
pub(crate) use exporter::TEMPLATES;
pub use options::PdfTemplateOptions;
pub use paper::{Orientation, Paper, Scope};
pub use print_check::print_check;

pub(crate) use book::{BookFacts, book};
pub(crate) use page_format::PageFormat;
pub(crate) use paint::document;
pub(crate) use paper_sheet::PaperSheet;
