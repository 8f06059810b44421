//! How files are named, decided once for all formats.

use jigless_model::plan::Part;
use jigless_model::side::Face;

/// `door` for the front of a part, `door.back` for its back: a path without extension.
pub(crate) fn stem_of_face(part: &Part, face: Face) -> String {
    match face {
        Face::Front => part.id.clone(),
        Face::Back => format!("{}.back", part.id),
    }
}

/// The same for a sheet.
pub(crate) fn stem_of_sheet(name: &str, face: Face) -> String {
    match face {
        Face::Front => name.to_owned(),
        Face::Back => format!("{name}.back"),
    }
}
