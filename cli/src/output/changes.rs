//! What is to be done in the folder of a plan, and doing it.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use super::before::{Before, of_plan};
use super::made::Output;
use super::refusal::failed;
use super::removal::remove;
use crate::exit::Problem;
use crate::manifest::{FileRecord, MANIFEST, Manifest, PENDING, Pending};
use crate::write::{There, Writer, is_below, what_is};

/// What is to be done in the folder of a plan.
pub struct Changes<'a> {
    output: &'a Output,
    folder: PathBuf,
    before: Before,
    /// The files whose content on the disk is not yet the coming one.
    write: Vec<(&'a str, &'a [u8])>,
    /// The files of earlier runs that no run would make again.
    remove: Vec<FileRecord>,
    manifest: Manifest,
}

impl<'a> Changes<'a> {
    /// What is to be done in the folder of the plan below `out`. Nothing is written yet.
    ///
    /// # Errors
    /// When files that are not ours are in the way, unless `force` is given; when a link or a file stands where a
    /// folder should be; when the disk refuses.
    pub fn of(
        output: &'a Output,
        out: &Path,
        before: Before,
        force: bool,
    ) -> Result<Self, Problem> {
        let folder = out.join(&output.about.plan.name);
        output.check_folders(out)?;
        let write = output.changed(&folder, &before, force)?;
        let (manifest, remove) = output.manifest(&folder, &before);
        Ok(Self {
            output,
            folder,
            before,
            write,
            remove,
            manifest,
        })
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
        for record in &self.remove {
            let _ = writeln!(text, "  remove  {}", record.path);
        }
        text
    }

    /// Does it.
    ///
    /// # Errors
    /// When the disk refuses. Every file is then whole, old or new, and the next run goes on from there.
    pub fn apply(&self, writer: Writer) -> Result<(), Problem> {
        let folder = &self.folder;
        let Output { about, files } = self.output;
        let put = |path: &Path, bytes: &[u8]| {
            let written = writer.replace(path, bytes);
            written.map_err(|error| failed(path, "be written", &error))
        };
        let make_folder = |path: &Path| {
            let made = writer.make_folder(path);
            made.map_err(|error| failed(path, "be made", &error))
        };
        make_folder(folder)?;
        let ours = of_plan(self.output.records(), &about.plan.digest);
        let left_behind = self.before.left_behind.iter().cloned();
        let pending = Pending::new(left_behind.chain(ours).collect());
        put(&folder.join(PENDING), &pending.to_bytes())?;
        if self.before.unfinished {
            let paths = files.keys().map(String::as_str);
            let paths = paths.chain(self.before.owned.paths());
            self.each_folder(paths.chain([MANIFEST]), |folder| writer.sweep(folder));
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
        for record in &self.remove {
            remove(folder, record, writer)?;
        }
        put(&folder.join(MANIFEST), &self.manifest.to_bytes())?;
        let pending = folder.join(PENDING);
        let removed = writer.remove_file(&pending);
        removed.map_err(|error| failed(&pending, "be removed", &error))?;
        let removed = self.remove.iter().map(|record| record.path.as_str());
        self.each_folder(removed, |folder| writer.remove_empty(folder));
        Ok(())
    }

    /// Does something once for each folder of some files, but for those that a link leads to.
    fn each_folder<'p>(&self, paths: impl Iterator<Item = &'p str>, act: impl Fn(&Path)) {
        let below = paths.filter(|path| is_below(&self.folder, path));
        let files = below.map(|path| self.folder.join(path));
        let folders: BTreeSet<PathBuf> = files
            .filter_map(|file| file.parent().map(Path::to_owned))
            .collect();
        for folder in &folders {
            act(folder);
        }
    }
}
