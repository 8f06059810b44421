//! What a machine will see in a DXF or SVG file, whoever wrote it: read back without the code that writes, and judged.

mod dxf;
mod inspection;
mod judge;
mod report;
mod svg;

use jigless_model::units::Unit;

pub use inspection::{Entity, Inspection, InspectionFault};

/// Reads a file by its content and judges it. Of a DXF that names no unit, `assumed` is taken, or what a text in it says
/// (`Units: inches`).
///
/// # Errors
/// Why it is neither DXF nor SVG that can be read.
pub fn inspect(bytes: &[u8], assumed: Option<Unit>) -> Result<Inspection, String> {
    let start = bytes
        .iter()
        .find(|byte| !byte.is_ascii_whitespace() && byte.is_ascii());
    let mut inspection = if start == Some(&b'<') {
        svg::read(bytes)?
    } else {
        dxf::read(bytes, assumed)?
    };
    judge::judge(&mut inspection);
    Ok(inspection)
}
