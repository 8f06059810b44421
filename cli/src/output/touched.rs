//! Whether a file is still what a run wrote.

use std::fs::{self, Metadata};
use std::io;
use std::path::Path;
use std::time::Duration;

use crate::digest::sha256;
use crate::manifest::FileRecord;

/// When a file last changed, since 1970, as its disk counts.
///
/// Where the system reports when content, name or owner last changed, which no program can set back, that is taken; else
/// when the content last changed.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Changed(Duration);

impl Changed {
    /// Of a file; nothing where the disk does not tell.
    pub fn of(path: &Path) -> Option<Self> {
        when(&fs::metadata(path).ok()?)
    }
}

#[cfg(unix)]
fn when(metadata: &Metadata) -> Option<Changed> {
    use std::os::unix::fs::MetadataExt;
    let seconds = u64::try_from(metadata.ctime()).ok()?;
    let nanoseconds = u32::try_from(metadata.ctime_nsec()).ok()?;
    Some(Changed(Duration::new(seconds, nanoseconds)))
}

#[cfg(not(unix))]
fn when(metadata: &Metadata) -> Option<Changed> {
    let modified = metadata.modified().ok()?;
    modified
        .duration_since(std::time::UNIX_EPOCH)
        .ok()
        .map(Changed)
}

/// Whether a file holds what was recorded of it in a manifest that was written at a time.
///
/// A manifest is written after its files. So a file that did not change after it, and is as long as it was, is taken to
/// be as it was written; of any other the content is read. What this can miss is a change of the same length within the
/// tick of the disk's clock, some thousandths of a second, in which the manifest was written. Nothing is lost by that:
/// before a file is replaced its content is always read.
///
/// # Errors
/// When the file cannot be read.
pub fn is_as_written(
    path: &Path,
    record: &FileRecord,
    manifest: Option<Changed>,
) -> io::Result<bool> {
    let metadata = fs::symlink_metadata(path)?;
    if !metadata.is_file() || metadata.len() != record.bytes {
        return Ok(false);
    }
    if let (Some(file), Some(manifest)) = (when(&metadata), manifest)
        && file <= manifest
    {
        return Ok(true);
    }
    Ok(sha256(&fs::read(path)?) == record.sha256)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::thread::sleep;

    /// Longer than a tick of any clock that disks stamp by.
    const TICK: Duration = Duration::from_millis(50);

    #[test]
    fn a_change_of_the_same_length_is_seen() {
        let folder = tempfile::tempdir().unwrap();
        let (file, manifest) = (folder.path().join("a.dxf"), folder.path().join("manifest"));
        let record = FileRecord {
            path: "a.dxf".to_owned(),
            bytes: 3,
            sha256: sha256(b"old"),
            exporter: "dxf-cnc".to_owned(),
            part: None,
            earlier_plan: None,
        };
        let is_old = || is_as_written(&file, &record, Changed::of(&manifest)).unwrap();
        fs::write(&file, "old").unwrap();
        sleep(TICK);
        fs::write(&manifest, "").unwrap();
        assert!(is_old());
        sleep(TICK);
        fs::write(&file, "new").unwrap();
        assert!(!is_old());
        // Of a file that was touched, and with no manifest, the content counts.
        fs::write(&file, "old").unwrap();
        assert!(is_old());
        assert!(is_as_written(&file, &record, None).unwrap());
        fs::write(&file, "older").unwrap();
        assert!(!is_old());
    }
}
