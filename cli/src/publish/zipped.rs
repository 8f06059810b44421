//! All files of a plan in one, with their checksums: the same files give the same bytes.

use std::fs;
use std::io::{self, Cursor, Write};
use std::path::Path;

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

use super::SUMS;

/// A zip of files: each with its path in it, where it is, and its SHA-256 in hexadecimal. Every file has the same date,
/// the earliest that a zip can hold.
///
/// # Errors
/// When a file cannot be read.
pub(super) fn zipped(files: &[(String, &Path, String)]) -> io::Result<Vec<u8>> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default())
        .unix_permissions(0o644);
    let mut sums = String::new();
    for (name, file, digest) in files {
        zip.start_file(name.as_str(), options)?;
        zip.write_all(&fs::read(file)?)?;
        sums.extend([digest, "  ", name, "\n"]);
    }
    zip.start_file(SUMS, options)?;
    zip.write_all(sums.as_bytes())?;
    Ok(zip.finish()?.into_inner())
}
