//! What is to be written against what is there: what is in the way, what has changed, what is left over.

use std::fs;
use std::path::Path;

use super::before::Before;
use super::made::{About, Output};
use super::refusal::{failed, foreign, is_a_folder, not_a_folder};
use super::removal::content;
use crate::digest::sha256;
use crate::exit::Problem;
use crate::manifest::{FileRecord, MANIFEST, Manifest};
use crate::styled::shown;
use crate::write::{There, what_is};

impl Output {
    /// Refuses links and files where folders should be, so that nothing is written outside `out`.
    pub(super) fn check_folders(&self, out: &Path) -> Result<(), Problem> {
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
                    let message = format!("{}: it is a link, and may lead anywhere", shown(&path));
                    return Err(Problem::disk(message)
                        .fix("put a real folder in its place, or choose another --out"));
                }
                There::File | There::Other => return Err(not_a_folder(&path)),
            }
        }
        Ok(())
    }

    /// The files whose content on the disk is not yet the coming one.
    pub(super) fn changed(
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
    /// it come the records of those that no run would make again, which go.
    pub(super) fn manifest(&self, folder: &Path, before: &Before) -> (Manifest, Vec<FileRecord>) {
        let mut files = self.records();
        let mut remove = Vec::new();
        for path in before.owned.paths() {
            if self.files.contains_key(path) {
                continue;
            }
            let Some(bytes) = content(folder, path) else {
                continue;
            };
            // What others have changed since is theirs: it stays, and is no longer in the record.
            let Some(record) = before.owned.find(path, &sha256(&bytes)) else {
                continue;
            };
            if self.is_stale(record) {
                remove.push(record.clone());
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
}
