//! Removing files of earlier runs. It obeys the rule of writing: never through a link, never outside the folder, and only
//! what a record lists and what is still as that record says. A record may have been edited by anybody.

use std::fs;
use std::path::Path;

use super::refusal::failed;
use crate::digest::sha256;
use crate::exit::Problem;
use crate::manifest::FileRecord;
use crate::paths::check_relative;
use crate::write::{There, Writer, is_below, what_is};

/// The content of a file below a folder, if it is a plain one that is reached without a link.
pub(super) fn content(folder: &Path, path: &str) -> Option<Vec<u8>> {
    let file = folder.join(path);
    let plain = check_relative(path).is_ok()
        && is_below(folder, path)
        && matches!(what_is(&file), Ok(There::File));
    plain.then(|| fs::read(file).ok()).flatten()
}

/// Removes a file if it is still as its record says; reports whether it did.
///
/// # Errors
/// When the disk refuses.
pub(super) fn remove(folder: &Path, record: &FileRecord, writer: Writer) -> Result<bool, Problem> {
    let is_as_made = content(folder, &record.path).is_some_and(|b| sha256(&b) == record.sha256);
    if is_as_made {
        let file = folder.join(&record.path);
        let removed = writer.remove_file(&file);
        removed.map_err(|error| failed(&file, "be removed", &error))?;
    }
    Ok(is_as_made)
}
