//! `pdf-drawings`: the whole on sheets, from three sides with dimensions, cut through, and moved apart with a parts list.

mod dimensions;
mod exporter;
mod options;
mod parts_list;
mod sheet;
mod standard_scale;
mod title_block;

pub use exporter::PdfDrawings;
pub use options::{PdfDrawingsOptions, SheetPaper};

#[cfg(test)]
pub(crate) use exporter::sheets_for_tests;
