//! `pdf-drawings`: the whole on sheets, from three sides with dimensions, cut through, and moved apart with a parts list;
//! `pdf-part-drawings` and `svg-drawing`: each part by itself, reduced, with ordinates.

mod dimensions;
mod exporter;
mod options;
mod part_exporters;
mod part_options;
pub(crate) mod part_sheet;
mod parts_list;
mod sheet;
mod standard_scale;
mod title_block;

pub use exporter::PdfDrawings;
pub use options::{PdfDrawingsOptions, SheetPaper};
pub use part_exporters::{PdfPartDrawings, SvgDrawing};
pub use part_options::PartDrawingOptions;

pub(crate) use part_sheet::{PartPicture, picture as part_picture, worked_faces};

#[cfg(test)]
pub(crate) use exporter::sheets_for_tests;
