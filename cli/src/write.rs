//! Writing single files: they appear whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::{Builder, NamedTempFile};

/// How the name of a file begins and ends until it is whole.
const PREFIX: &str = ".jigless-";
const SUFFIX: &str = ".tmp";

/// Puts a file in place of whatever has its name.
///
/// # Errors
/// When the disk refuses. Nothing half written is left.
pub fn replace(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let file = written_beside(path, bytes)?;
    file.persist(path).map(drop).map_err(|failed| failed.error)
}

/// Gives a file of the user's another content; who may read and write it stays.
///
/// # Errors
/// When the disk refuses. Then the file is as it was.
pub fn rewrite(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let permissions = fs::metadata(path)?.permissions();
    let file = written_beside(path, bytes)?;
    file.as_file().set_permissions(permissions)?;
    file.persist(path).map(drop).map_err(|failed| failed.error)
}

/// Puts a file where there is none.
///
/// # Errors
/// When the disk refuses, or something has its name already.
pub fn create(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let file = written_beside(path, bytes)?;
    file.persist_noclobber(path)
        .map(drop)
        .map_err(|failed| failed.error)
}

/// The content under another name in the same folder, so that giving it its own name is a single step.
fn written_beside(path: &Path, bytes: &[u8]) -> io::Result<NamedTempFile> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let mut builder = Builder::new();
    builder.prefix(PREFIX).suffix(SUFFIX);
    #[cfg(unix)]
    {
        // Others may read it as far as the user's own mask lets them; the library's default is the owner alone.
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(bytes)?;
    Ok(file)
}

/// Removes what killed runs left in a folder of files that were never given their names.
pub fn sweep(folder: &Path) {
    for path in unfinished(folder) {
        // It is only tidying: what cannot be removed stays.
        let _ = fs::remove_file(path);
    }
}

/// The files that killed runs left in a folder and that were never given their names.
pub fn unfinished(folder: &Path) -> impl Iterator<Item = PathBuf> {
    // What cannot be seen cannot be tidied either.
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    entries.filter_map(|entry| {
        let name = entry.file_name();
        let name = name.as_encoded_bytes();
        let ours = name.starts_with(PREFIX.as_bytes()) && name.ends_with(SUFFIX.as_bytes());
        ours.then(|| entry.path())
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
        for name in [".jigless-a1.tmp", ".jigless-notes", "b.tmp", "a.svg"] {
            fs::write(folder.path().join(name), "x").unwrap();
        }
        sweep(folder.path());
        assert_eq!(names(folder.path()), [".jigless-notes", "a.svg", "b.tmp"]);
        sweep(&folder.path().join("none"));
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
