//! How files are named, decided once for all formats.

use jigless_model::plan::Part;
use jigless_model::side::Face;

/// `door.dxf` for the front of a part, `door.back.dxf` for its back.
pub(crate) fn of_face(part: &Part, face: Face, extension: &str) -> String {
    match face {
        Face::Front => format!("{}.{extension}", part.id),
        Face::Back => format!("{}.back.{extension}", part.id),
    }
}
