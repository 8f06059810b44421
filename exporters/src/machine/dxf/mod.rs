//! DXF of shapes on layers: a [template] of the version with its placeholders filled, and [records] for layers and
//! entities, which are written [group by group](groups).

mod groups;
mod records;
mod template;
#[cfg(test)]
mod tests;
mod writer;

pub(super) use writer::{FileHeader, write};

/// IANA media type of DXF.
pub(super) const MEDIA_TYPE: &str = "image/vnd.dxf";
