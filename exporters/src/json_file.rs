//! A file of JSON for other programs, as every format writes it.

use jigless_model::export::{Artifact, ExportError};
use serde::Serialize;

/// One file with a value as indented JSON and a line feed at its end.
///
/// # Errors
/// When the value cannot be written as JSON.
pub(crate) fn json_file(
    exporter: &'static str,
    path: &str,
    value: &impl Serialize,
) -> Result<Vec<Artifact>, ExportError> {
    let mut bytes = serde_json::to_vec_pretty(value).map_err(|error| ExportError {
        exporter,
        message: error.to_string(),
    })?;
    bytes.push(b'\n');
    Ok(vec![Artifact {
        path: path.to_owned(),
        media_type: "application/json",
        part: None,
        bytes,
    }])
}
