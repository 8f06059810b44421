//! The output folder of one plan: what may be written there, and writing it so that a kill at any moment loses nothing.

mod before;
mod changes;
mod fresh;
mod prune;
mod refusal;
#[cfg(test)]
mod tests;
mod touched;

pub use before::Before;
pub use changes::Changes;
pub use fresh::why_made;
pub use prune::orphans;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use jigless_core::export::Artifact;

use refusal::{failed, foreign, internal, is_a_folder, not_a_folder};

use crate::exit::Problem;
use crate::inputs::Inputs;
use crate::digest::sha256;
use crate::manifest::{ExporterRecord, FileRecord, MANIFEST, Manifest, PlanRecord};
use crate::paths::check_relative;
use crate::write::{There, what_is};

/// A file that is to be, and the format that made it.
#[derive(Debug)]
pub struct Made {
    /// Id of the exporter.
    pub exporter: &'static str,
    /// The file.
    pub artifact: Artifact,
}

/// What a run says of a plan, its files apart.
#[derive(Debug)]
pub struct About {
    /// The program and its version.
    pub tool: String,
    /// The plan.
    pub plan: PlanRecord,
    /// What the plan was read from.
    pub inputs: Inputs,
    /// The formats of the run, with their options in force.
    pub exporters: Vec<ExporterRecord>,
    /// Those of them whose files are as they should be and were not made again.
    pub kept: BTreeSet<String>,
    /// The parts of the plan that the run left out, so that their files stay.
    pub other_parts: BTreeSet<String>,
}

/// What is to be written of one plan.
#[derive(Debug)]
pub struct Output {
    about: About,
    files: BTreeMap<String, (FileRecord, Vec<u8>)>,
}

impl Output {
    /// Gathers the files of a plan.
    ///
    /// # Errors
    /// When an exporter gives a path that may not be, or two files would have one name. Either is a fault of the
    /// program.
    pub fn new(about: About, made: Vec<Made>) -> Result<Self, Problem> {
        let mut files = BTreeMap::new();
        // Many disks do not tell upper from lower case.
        let mut origins: BTreeMap<String, String> = BTreeMap::new();
        for Made { exporter, artifact } in made {
            let origin = match &artifact.part {
                Some(part) => format!("{exporter} for part {part}"),
                None => exporter.to_owned(),
            };
            let path = format!("{exporter}/{}", artifact.path);
            if let Err(reason) = check_relative(&path) {
                return Err(internal(&format!(
                    "{origin} gave the path `{path}`: {reason}"
                )));
            }
            if let Some(other) = origins.insert(path.to_lowercase(), origin.clone()) {
                return Err(internal(&format!(
                    "{other} and {origin} both made `{path}`"
                )));
            }
            let record = FileRecord {
                path: path.clone(),
                bytes: artifact.bytes.len() as u64,
                sha256: sha256(&artifact.bytes),
                exporter: exporter.to_owned(),
                part: artifact.part,
                earlier_plan: None,
            };
            files.insert(path, (record, artifact.bytes));
        }
        Ok(Self { about, files })
    }

    /// How many files there are, without the manifest.
    pub fn len(&self) -> usize {
        self.files.len()
    }

    /// What is to be done in the folder of the plan below `out`. Nothing is written yet.
    ///
    /// # Errors
    /// When files that are not ours are in the way, unless `force` is given; when a link or a file stands where a
    /// folder should be; when the disk refuses.
    pub fn changes(&self, out: &Path, before: Before, force: bool) -> Result<Changes<'_>, Problem> {
        let folder = out.join(&self.about.plan.name);
        self.check_folders(out)?;
        let write = self.changed(&folder, &before, force)?;
        let (manifest, remove) = self.manifest(&folder, &before);
        Ok(Changes::new(self, folder, before, write, remove, manifest))
    }

    /// Refuses links and files where folders should be, so that nothing is written outside `out`.
    fn check_folders(&self, out: &Path) -> Result<(), Problem> {
        // The folder that the user names may be a link; what is below it may not.
        if let Ok(about) = fs::metadata(out)
            && !about.is_dir()
        {
            return Err(not_a_folder(out));
        }
        let mut folders: Vec<String> = Vec::new();
        for path in self.files.keys().map(String::as_str).chain([MANIFEST]) {
            let path = format!("{}/{path}", self.about.plan.name);
            for (at, _) in path.match_indices('/') {
                folders.push(path[..at].to_owned());
            }
        }
        folders.sort();
        folders.dedup();
        for folder in folders {
            let path = out.join(&folder);
            match what_is(&path).map_err(|error| failed(&path, "be looked at", &error))? {
                There::Nothing | There::Folder => {}
                There::Link => {
                    let message =
                        format!("{}: it is a link, and may lead anywhere", path.display());
                    return Err(Problem::disk(message)
                        .fix("put a real folder in its place, or choose another --out"));
                }
                There::File | There::Other => return Err(not_a_folder(&path)),
            }
        }
        Ok(())
    }

    /// The files whose content on the disk is not yet the coming one.
    fn changed(
        &self,
        folder: &Path,
        before: &Before,
        force: bool,
    ) -> Result<Vec<(&str, &[u8])>, Problem> {
        if matches!(what_is(folder), Ok(There::Nothing)) {
            let all = self.files.iter();
            return Ok(all.map(|(path, (_, bytes))| (&**path, &**bytes)).collect());
        }
        let mut changed: Vec<(&str, &[u8])> = Vec::new();
        let mut in_the_way = before.foreign.clone();
        for (path, (record, bytes)) in &self.files {
            let file = folder.join(path);
            match what_is(&file).map_err(|error| failed(&file, "be looked at", &error))? {
                There::Nothing => {}
                There::File => {
                    let there =
                        fs::read(&file).map_err(|error| failed(&file, "be read", &error))?;
                    let hash = sha256(&there);
                    if hash == record.sha256 {
                        continue;
                    }
                    if before.owned.find(path, &hash).is_none() {
                        in_the_way.push(file);
                    }
                }
                There::Folder => return Err(is_a_folder(&file)),
                There::Link | There::Other => in_the_way.push(file),
            }
            changed.push((path, bytes));
        }
        if in_the_way.is_empty() || force {
            Ok(changed)
        } else {
            Err(foreign(&in_the_way))
        }
    }

    /// What will be there: the new files, and those of earlier runs that are not made again and still are as made. With
    /// it come the paths of those that no run would make again, which go.
    fn manifest(&self, folder: &Path, before: &Before) -> (Manifest, Vec<String>) {
        let mut files = self.records();
        let mut remove = Vec::new();
        for path in before.owned.paths() {
            let file = folder.join(path);
            if self.files.contains_key(path) || !matches!(what_is(&file), Ok(There::File)) {
                continue;
            }
            let Ok(bytes) = fs::read(file) else {
                continue;
            };
            // What others have changed since is theirs: it stays, and is no longer in the record.
            let Some(record) = before.owned.find(path, &sha256(&bytes)) else {
                continue;
            };
            if self.is_stale(record) {
                remove.push(path.to_owned());
                continue;
            }
            let mut record = record.clone();
            record
                .earlier_plan
                .take_if(|digest| *digest == self.about.plan.digest);
            files.push(record);
        }
        let mut exporters = self.about.exporters.clone();
        for old in before.manifest.iter().flat_map(|old| &old.exporters) {
            let made = exporters.iter().any(|exporter| exporter.id == old.id);
            if !made && files.iter().any(|file| file.exporter == old.id) {
                exporters.push(old.clone());
            }
        }
        let About {
            tool, plan, inputs, ..
        } = &self.about;
        let manifest = Manifest::new(tool.clone(), plan.clone(), inputs.clone(), exporters, files);
        (manifest, remove)
    }

    /// Whether a file of an earlier run would not be made again: its format was made anew, or does not take the plan
    /// any more, and its part was not left out of this run.
    fn is_stale(&self, record: &FileRecord) -> bool {
        let About {
            exporters,
            kept,
            other_parts,
            ..
        } = &self.about;
        let anew =
            exporters.iter().any(|e| e.id == record.exporter) && !kept.contains(&record.exporter);
        let left_out = match &record.part {
            Some(part) => other_parts.contains(part),
            // It shows several parts, and this run did not look at all of them.
            None => !other_parts.is_empty(),
        };
        anew && !left_out
    }

    fn records(&self) -> Vec<FileRecord> {
        let records = self.files.values().map(|(record, _)| record);
        records.cloned().collect()
    }
}
