//! What earlier runs left, and so which files may be replaced.

use std::path::{Path, PathBuf};

use super::touched::Changed;
use crate::exit::Problem;
use crate::inputs::Inputs;
use crate::manifest::{
    FileRecord, MANIFEST, Manifest, Owned, PENDING, Record, read_manifest, read_pending,
};
use crate::styled::shown;
use crate::write;

/// What earlier runs left in the folder of a plan.
pub struct Before {
    /// The record of what was made.
    pub manifest: Option<Manifest>,
    /// When it was written, if the disk tells.
    pub written: Option<Changed>,
    /// The files of the record of an unfinished run.
    pub left_behind: Vec<FileRecord>,
    /// Whether a run was not finished.
    pub unfinished: bool,
    /// All files that are ours.
    pub owned: Owned,
    /// Records that are not ours.
    pub foreign: Vec<PathBuf>,
}

impl Before {
    /// Reads the records in the folder of a plan.
    ///
    /// # Errors
    /// When a record cannot be read, or a newer version wrote it.
    pub fn read(folder: &Path) -> Result<Self, Problem> {
        let unusable = |name: &str, reason: String| {
            Problem::disk(format!("{}: {reason}", shown(&folder.join(name))))
        };
        let mut foreign = Vec::new();
        let manifest = match read_manifest(folder).map_err(|r| unusable(MANIFEST, r))? {
            Record::None => None,
            Record::Ours(manifest) => Some(manifest),
            Record::Foreign => {
                foreign.push(folder.join(MANIFEST));
                None
            }
        };
        let (left_behind, unfinished) =
            match read_pending(folder).map_err(|r| unusable(PENDING, r))? {
                Record::None => (Vec::new(), false),
                Record::Ours(pending) => (pending.files, true),
                Record::Foreign => {
                    foreign.push(folder.join(PENDING));
                    (Vec::new(), true)
                }
            };
        // A run that was killed while it wrote its very first file left only this.
        let unfinished = unfinished || write::unfinished(folder).next().is_some();
        let mut owned = Owned::default();
        if let Some(manifest) = &manifest {
            owned.add(of_plan(manifest.files.clone(), &manifest.plan.digest));
        }
        owned.add(left_behind.clone());
        Ok(Self {
            written: Changed::of(&folder.join(MANIFEST)),
            manifest,
            left_behind,
            unfinished,
            owned,
            foreign,
        })
    }

    /// The formats that do not suit the plan, where it was made by this build from the same inputs.
    pub fn unsuited(&self, inputs: &Inputs) -> &[String] {
        let same = |manifest: &&Manifest| {
            let mut records = manifest.exporters.iter();
            manifest.inputs == *inputs
                && records.all(|record| record.made_from.build == crate::BUILD)
        };
        let manifest = self.manifest.as_ref().filter(same);
        manifest.map_or(&[], |manifest| &manifest.plan.unsuited)
    }

    /// Whether a format had warnings or errors about the plan.
    pub fn has_words_of(&self, exporter: &str) -> bool {
        let records = self
            .manifest
            .iter()
            .flat_map(|manifest| &manifest.exporters);
        let mut own = records.filter(|record| record.id == exporter);
        own.any(|record| record.warnings > 0 || record.left_out.is_some())
    }
}

/// Says of every record which text of the plan it was made from.
pub(super) fn of_plan(mut records: Vec<FileRecord>, digest: &str) -> Vec<FileRecord> {
    for record in &mut records {
        record.earlier_plan.get_or_insert_with(|| digest.to_owned());
    }
    records
}
