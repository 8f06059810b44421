//! Writing single files: they appear whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::{Builder, TempPath};

/// How the name of a file begins and ends until it is whole.
const PREFIX: &str = ".jigless-";
const SUFFIX: &str = ".tmp";
/// How many letters and digits stand between them.
const RANDOM: usize = 6;

/// What is done to the disk in one step that the system either does or refuses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// Making a folder and those above it.
    MakeFolder,
    /// Making the file that will take another name.
    Begin,
    /// Writing a part of its content.
    Write,
    /// Giving it its name.
    Rename,
    /// Removing a file.
    Remove,
    /// Removing an empty folder.
    RemoveFolder,
    /// Removing a file that did not get its name.
    Tidy,
}

/// Asked before every step that changes the disk. The program lets every step pass; tests refuse some, as a full disk
/// does, or all from one on, as the end of the program does.
pub trait Gate: Sync {
    /// Lets a step pass.
    ///
    /// # Errors
    /// Why it is not taken.
    fn pass(&self, step: Step) -> io::Result<()>;
}

/// Lets every step pass.
#[derive(Debug, Clone, Copy, Default)]
pub struct Open;

impl Gate for Open {
    fn pass(&self, _: Step) -> io::Result<()> {
        Ok(())
    }
}

/// Changes the disk step by step.
#[derive(Clone, Copy)]
pub struct Writer<'a> {
    /// What every step goes through.
    pub gate: &'a dyn Gate,
}

impl Default for Writer<'_> {
    fn default() -> Self {
        Self { gate: &Open }
    }
}

impl Writer<'_> {
    /// Makes a folder and those above it, where there are none.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn make_folder(&self, folder: &Path) -> io::Result<()> {
        self.gate.pass(Step::MakeFolder)?;
        fs::create_dir_all(folder)
    }

    /// Puts a file in place of whatever has its name; a link is replaced, not followed.
    ///
    /// # Errors
    /// When the disk refuses. Nothing half written is left.
    pub fn replace(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        self.put(path, bytes, None, |file| persist(file, path))
    }

    /// Puts a file where there is none.
    ///
    /// # Errors
    /// When the disk refuses, or something has its name already.
    pub fn create(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        self.put(path, bytes, None, |file| {
            file.persist_noclobber(path)
                .map(drop)
                .map_err(|failed| (failed.error, failed.path))
        })
    }

    /// Removes a file.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn remove_file(&self, path: &Path) -> io::Result<()> {
        self.gate.pass(Step::Remove)?;
        fs::remove_file(path)
    }

    /// Removes a folder if it is empty; the disk keeps what is not.
    pub fn remove_empty(&self, folder: &Path) {
        if self.gate.pass(Step::RemoveFolder).is_ok() {
            let _ = fs::remove_dir(folder);
        }
    }

    /// Removes what killed runs left in a folder of files that were never given their names.
    pub fn sweep(&self, folder: &Path) {
        for path in unfinished(folder) {
            // It is only tidying: what cannot be removed stays.
            if self.gate.pass(Step::Tidy).is_ok() {
                let _ = fs::remove_file(path);
            }
        }
    }

    /// Writes the content under another name in the same folder, so that giving it its own name is a single step.
    fn put(
        &self,
        path: &Path,
        bytes: &[u8],
        permissions: Option<fs::Permissions>,
        name: impl FnOnce(TempPath) -> Result<(), (io::Error, TempPath)>,
    ) -> io::Result<()> {
        let folder = path.parent().unwrap_or(Path::new("."));
        let mut builder = Builder::new();
        builder.prefix(PREFIX).suffix(SUFFIX).rand_bytes(RANDOM);
        #[cfg(unix)]
        {
            // Others may read it as far as the user's own mask lets them; the library's default is the owner alone.
            use std::os::unix::fs::PermissionsExt;
            builder.permissions(fs::Permissions::from_mode(0o666));
        }
        self.gate.pass(Step::Begin)?;
        let (mut file, mut begun) = builder.tempfile_in(folder)?.into_parts();
        // A program that has ended removes nothing; whether this one has is for the gate to say.
        begun.disable_cleanup(true);
        let (first, rest) = bytes.split_at(bytes.len() / 2);
        let written = self
            .gate
            .pass(Step::Write)
            .and_then(|()| file.write_all(first))
            .and_then(|()| self.gate.pass(Step::Write))
            .and_then(|()| file.write_all(rest))
            .and_then(|()| permissions.map_or(Ok(()), |own| file.set_permissions(own)))
            .and_then(|()| self.gate.pass(Step::Rename));
        drop(file);
        let failed = match written {
            Ok(()) => match name(begun) {
                Ok(()) => return Ok(()),
                Err(failed) => failed,
            },
            Err(error) => (error, begun),
        };
        if self.gate.pass(Step::Tidy).is_ok() {
            let _ = fs::remove_file(&failed.1);
        }
        Err(failed.0)
    }
}

fn persist(file: TempPath, path: &Path) -> Result<(), (io::Error, TempPath)> {
    file.persist(path)
        .map(drop)
        .map_err(|failed| (failed.error, failed.path))
}

/// [`Writer::replace`] without a gate.
///
/// # Errors
/// As there.
pub fn replace(path: &Path, bytes: &[u8]) -> io::Result<()> {
    Writer::default().replace(path, bytes)
}

/// Gives a file of the user's another content; who may read and write it stays.
///
/// # Errors
/// When the disk refuses. Then the file is as it was.
pub fn rewrite(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let permissions = fs::metadata(path)?.permissions();
    Writer::default().put(path, bytes, Some(permissions), |file| persist(file, path))
}

/// [`Writer::create`] without a gate.
///
/// # Errors
/// As there.
pub fn create(path: &Path, bytes: &[u8]) -> io::Result<()> {
    Writer::default().create(path, bytes)
}

/// The files that killed runs left in a folder and that were never given their names.
pub fn unfinished(folder: &Path) -> impl Iterator<Item = PathBuf> {
    // What cannot be seen cannot be tidied either.
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    entries.filter_map(|entry| {
        let name = entry.file_name();
        let random = name.to_str()?.strip_prefix(PREFIX)?.strip_suffix(SUFFIX)?;
        let ours = random.len() == RANDOM && random.bytes().all(|b| b.is_ascii_alphanumeric());
        let is_file = entry.file_type().is_ok_and(|kind| kind.is_file());
        (ours && is_file).then(|| entry.path())
    })
}

/// What has a name, links not followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum There {
    /// Nothing.
    Nothing,
    /// A plain file.
    File,
    /// A folder.
    Folder,
    /// A link.
    Link,
    /// A pipe, socket or device.
    Other,
}

/// Whether a file below a folder is reached through folders alone: a link on the way could lead anywhere. `relative` has
/// `/` between its names. What is not there at all is reached by nobody.
pub fn is_below(root: &Path, relative: &str) -> bool {
    let folders = relative.match_indices('/').map(|(at, _)| &relative[..at]);
    let mut folders = folders.map(|folder| what_is(&root.join(folder)));
    folders.all(|there| matches!(there, Ok(There::Folder)))
}

/// Looks at a path without following it.
///
/// # Errors
/// When the disk does not tell.
pub fn what_is(path: &Path) -> io::Result<There> {
    match fs::symlink_metadata(path) {
        Ok(about) if about.is_symlink() => Ok(There::Link),
        Ok(about) if about.is_dir() => Ok(There::Folder),
        Ok(about) if about.is_file() => Ok(There::File),
        Ok(_) => Ok(There::Other),
        Err(error)
            if matches!(
                error.kind(),
                io::ErrorKind::NotFound | io::ErrorKind::NotADirectory
            ) =>
        {
            Ok(There::Nothing)
        }
        Err(error) => Err(error),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_file_is_replaced_and_nothing_else_is_left() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.svg");
        replace(&path, b"one").unwrap();
        replace(&path, b"two").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"two");
        assert_eq!(names(folder.path()), ["a.svg"]);
    }

    #[test]
    fn a_failed_write_leaves_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.svg");
        fs::create_dir(&path).unwrap();
        assert!(replace(&path, b"one").is_err());
        assert!(create(&path, b"one").is_err());
        assert_eq!(names(folder.path()), ["a.svg"]);
        assert!(replace(&folder.path().join("none/a.svg"), b"one").is_err());
    }

    #[test]
    fn only_unfinished_files_of_ours_are_swept() {
        let folder = tempfile::tempdir().unwrap();
        let others = [".jigless-notes", ".jigless-old-ones.tmp", "a.svg", "b.tmp"];
        for name in others.iter().chain(&[".jigless-a1B2c3.tmp"]) {
            fs::write(folder.path().join(name), "x").unwrap();
        }
        let writer = Writer::default();
        writer.sweep(folder.path());
        assert_eq!(names(folder.path()), others);
        writer.sweep(&folder.path().join("none"));
    }

    #[test]
    fn creating_never_replaces() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("plan.yaml");
        create(&path, b"one").unwrap();
        assert!(create(&path, b"two").is_err());
        assert_eq!(fs::read(&path).unwrap(), b"one");
    }

    #[cfg(unix)]
    #[test]
    fn a_rewritten_file_keeps_who_may_read_it() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("plan.yaml");
        fs::write(&path, "one").unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
        rewrite(&path, b"two").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"two");
        let mode = fs::metadata(&path).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o640);
        assert!(rewrite(&folder.path().join("none"), b"two").is_err());
        assert_eq!(names(folder.path()), ["plan.yaml"]);
    }

    #[cfg(unix)]
    #[test]
    fn others_may_read_what_the_mask_lets_them() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let (ours, plain) = (folder.path().join("a"), folder.path().join("b"));
        replace(&ours, b"one").unwrap();
        fs::write(&plain, b"one").unwrap();
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode();
        assert_eq!(mode(&ours), mode(&plain));
    }
}
