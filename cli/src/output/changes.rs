//! What is to be done in the folder of a plan, and doing it.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use super::Output;
use super::before::{Before, of_plan};
use super::refusal::failed;
use crate::exit::Problem;
use crate::manifest::{MANIFEST, Manifest, PENDING, Pending};
use crate::write::{There, replace, sweep, what_is};

/// What is to be done in the folder of a plan.
pub struct Changes<'a> {
    output: &'a Output,
    folder: PathBuf,
    before: Before,
    /// The files whose content on the disk is not yet the coming one.
    write: Vec<(&'a str, &'a [u8])>,
    /// The files of earlier runs that no run would make again.
    remove: Vec<String>,
    manifest: Manifest,
}

impl<'a> Changes<'a> {
    pub(super) fn new(
        output: &'a Output,
        folder: PathBuf,
        before: Before,
        write: Vec<(&'a str, &'a [u8])>,
        remove: Vec<String>,
        manifest: Manifest,
    ) -> Self {
        Self {
            output,
            folder,
            before,
            write,
            remove,
            manifest,
        }
    }

    /// How many files of earlier runs go.
    pub fn removed(&self) -> usize {
        self.remove.len()
    }

    /// Whether all is as it should be, the record too.
    pub fn is_nothing(&self) -> bool {
        let recorded = matches!(&self.before.manifest, Some(old) if *old == self.manifest);
        self.write.is_empty() && self.remove.is_empty() && recorded && !self.before.unfinished
    }

    /// A line for each file: what would be done with it.
    pub fn in_words(&self) -> String {
        let mut text = String::new();
        for (path, _) in &self.write {
            let verb = match what_is(&self.folder.join(path)) {
                Ok(There::Nothing) => "write  ",
                _ => "replace",
            };
            // Writing to a String cannot fail.
            let _ = writeln!(text, "  {verb} {path}");
        }
        for path in &self.remove {
            let _ = writeln!(text, "  remove  {path}");
        }
        text
    }

    /// Does it.
    ///
    /// # Errors
    /// When the disk refuses. Every file is then whole, old or new, and the next run goes on from there.
    pub fn apply(&self) -> Result<(), Problem> {
        let folder = &self.folder;
        let Output { about, files } = self.output;
        make_folder(folder)?;
        let ours = of_plan(self.output.records(), &about.plan.digest);
        let left_behind = self.before.left_behind.iter().cloned();
        let pending = Pending::new(left_behind.chain(ours).collect());
        put(&folder.join(PENDING), &pending.to_bytes())?;
        if self.before.unfinished {
            let paths = files.keys().map(String::as_str);
            let paths = paths.chain(self.before.owned.paths());
            self.each_folder(paths.chain([MANIFEST]), sweep);
        }
        let mut made: BTreeSet<PathBuf> = BTreeSet::new();
        for (path, bytes) in &self.write {
            let file = folder.join(path);
            if let Some(parent) = file.parent()
                && made.insert(parent.to_owned())
            {
                make_folder(parent)?;
            }
            put(&file, bytes)?;
        }
        for path in &self.remove {
            let file = folder.join(path);
            fs::remove_file(&file).map_err(|error| failed(&file, "be removed", &error))?;
        }
        put(&folder.join(MANIFEST), &self.manifest.to_bytes())?;
        let pending = folder.join(PENDING);
        fs::remove_file(&pending).map_err(|error| failed(&pending, "be removed", &error))?;
        // The disk keeps what is not empty.
        let removed = self.remove.iter().map(String::as_str);
        self.each_folder(removed, |folder| drop(fs::remove_dir(folder)));
        Ok(())
    }

    /// Does something once for each folder of some files.
    fn each_folder<'p>(&self, paths: impl Iterator<Item = &'p str>, act: impl Fn(&Path)) {
        let files = paths.map(|path| self.folder.join(path));
        let folders: BTreeSet<PathBuf> = files
            .filter_map(|file| file.parent().map(Path::to_owned))
            .collect();
        for folder in &folders {
            act(folder);
        }
    }
}

fn make_folder(folder: &Path) -> Result<(), Problem> {
    fs::create_dir_all(folder).map_err(|error| failed(folder, "be made", &error))
}

fn put(path: &Path, bytes: &[u8]) -> Result<(), Problem> {
    replace(path, bytes).map_err(|error| failed(path, "be written", &error))
}
