//! Output of plans that there are no more.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use super::refusal::failed;
use super::removal::remove;
use crate::exit::Problem;
use crate::manifest::{MANIFEST, PENDING, Record, read_manifest, read_pending};
use crate::write::{There, Writer, what_is};

/// The output of a plan that was not met.
#[derive(Debug)]
pub struct Orphan {
    /// The plan's name.
    pub name: String,
    folder: PathBuf,
}

/// The output below `out` of plans with other names than these, in order of their names.
pub fn orphans(out: &Path, names: &BTreeSet<&str>) -> Vec<Orphan> {
    let mut found = Vec::new();
    let mut ahead = vec![(String::new(), out.to_owned())];
    while let Some((name, folder)) = ahead.pop() {
        if matches!(what_is(&folder.join(MANIFEST)), Ok(There::File))
            && !names.contains(name.as_str())
            // A folder that was copied or renamed by hand is no longer what the record says.
            && matches!(read_manifest(&folder), Ok(Record::Ours(manifest)) if manifest.plan.name == name)
        {
            let folder = folder.clone();
            let name = name.clone();
            found.push(Orphan { name, folder });
        }
        // What cannot be read holds nothing that could be removed.
        for entry in fs::read_dir(&folder).into_iter().flatten().flatten() {
            if entry.file_type().is_ok_and(|kind| kind.is_dir())
                && let Ok(last) = entry.file_name().into_string()
            {
                let name = if name.is_empty() {
                    last
                } else {
                    format!("{name}/{last}")
                };
                ahead.push((name, entry.path()));
            }
        }
    }
    found.sort_by(|a, b| a.name.cmp(&b.name));
    found
}

impl Orphan {
    /// Removes its files that are still as they were made, its record, and the folders that are empty then.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn remove(&self, writer: Writer) -> Result<(), Problem> {
        let Ok(Record::Ours(manifest)) = read_manifest(&self.folder) else {
            return Ok(());
        };
        let mut folders = BTreeSet::new();
        for record in &manifest.files {
            if remove(&self.folder, record, writer)? {
                let file = self.folder.join(&record.path);
                folders.extend(file.parent().map(Path::to_owned));
            }
        }
        // The record goes last, so that a run that is stopped here is taken up by the next one.
        let of_runs = matches!(read_pending(&self.folder), Ok(Record::Ours(_)));
        let records = [PENDING, MANIFEST].into_iter();
        for name in records.filter(|name| *name == MANIFEST || of_runs) {
            let record = self.folder.join(name);
            let removed = writer.remove_file(&record);
            removed.map_err(|error| failed(&record, "be removed", &error))?;
        }
        for folder in folders.iter().rev().chain([&self.folder]) {
            writer.remove_empty(folder);
        }
        Ok(())
    }
}
