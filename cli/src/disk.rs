//! Reading plans and what they include, within bounds.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

use jigless_core::load::{IncludeReader, MAX_FILE_BYTES};

/// What went wrong with a file, in plain words.
pub fn in_words(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        ErrorKind::PermissionDenied => "the system does not permit it".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::QuotaExceeded => "the quota of this disk is used up".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk can only be read".to_owned(),
        ErrorKind::NotADirectory => "what should be a folder is a file".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        ErrorKind::AlreadyExists => "a file has its name".to_owned(),
        _ => error.to_string(),
    }
}

/// Reads a whole file that is a plain file and not too large.
///
/// # Errors
/// Why it cannot be read, in plain words.
pub fn read_text(path: &Path) -> Result<Vec<u8>, String> {
    let bytes = read_yaml(path)?;
    if bytes.len() > MAX_FILE_BYTES {
        return Err(format!(
            "it has more than the {MAX_FILE_BYTES} bytes that are read"
        ));
    }
    Ok(bytes)
}

/// Reads a plain file for [`jigless_core::load::parse`]: the whole of it, or of one that is too large a byte more than
/// what is allowed, so that its reader refuses it as it does all that is wrong with a text.
///
/// # Errors
/// Why it cannot be read, in plain words.
pub fn read_yaml(path: &Path) -> Result<Vec<u8>, String> {
    read_plain(path, MAX_FILE_BYTES as u64 + 1)
}

/// Reads so many bytes of a plain file at most.
///
/// # Errors
/// Why it cannot be read, in plain words.
pub fn read_plain(path: &Path, most: u64) -> Result<Vec<u8>, String> {
    let about = fs::metadata(path).map_err(|error| in_words(&error))?;
    // Opening a pipe would wait for its writer, and a device may never end.
    if !about.is_file() {
        return Err(if about.is_dir() {
            "it is a folder".to_owned()
        } else {
            "it is not a plain file but a pipe or device".to_owned()
        });
    }
    let mut bytes = Vec::with_capacity(about.len().min(most) as usize);
    File::open(path)
        .and_then(|file| file.take(most).read_to_end(&mut bytes))
        .map_err(|error| in_words(&error))?;
    Ok(bytes)
}

/// Whether a path is a link, or leads through one, to a file outside a folder.
///
/// # Errors
/// When one of them is not there, or the disk does not tell.
pub fn leads_out(file: &Path, folder: &Path) -> io::Result<bool> {
    Ok(!fs::canonicalize(file)?.starts_with(fs::canonicalize(folder)?))
}

/// The folder that a file stands in.
pub fn folder_of(file: &Path) -> &Path {
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Reads included files from the folder of a plan, and from nowhere else.
pub struct FolderIncludes {
    folder: PathBuf,
}

impl FolderIncludes {
    /// For a plan file.
    pub fn of_plan(file: &Path) -> Self {
        Self {
            folder: folder_of(file).to_owned(),
        }
    }
}

impl IncludeReader for FolderIncludes {
    fn read(&self, path: &str) -> Result<Vec<u8>, String> {
        let resolve = |path: &Path| fs::canonicalize(path).map_err(|error| in_words(&error));
        let folder = resolve(&self.folder)?;
        let file = resolve(&self.folder.join(path))?;
        if !file.starts_with(&folder) {
            return Err("it is a link that leads out of the plan's folder".to_owned());
        }
        read_yaml(&file)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn includes_come_from_the_plans_folder_only() {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("plan");
        fs::create_dir_all(folder.join("sub")).unwrap();
        fs::write(folder.join("sub/tray.yaml"), "a").unwrap();
        fs::write(root.path().join("secret.yaml"), "b").unwrap();
        let includes = FolderIncludes::of_plan(&folder.join("plan.yaml"));
        assert_eq!(includes.read("sub/tray.yaml"), Ok(b"a".to_vec()));
        assert_eq!(
            includes.read("none.yaml"),
            Err("there is no such file or folder".to_owned())
        );
        assert_eq!(includes.read("sub"), Err("it is a folder".to_owned()));
        assert!(includes.read("../secret.yaml").is_err());
        #[cfg(unix)]
        {
            use std::os::unix::fs::symlink;
            symlink(root.path().join("secret.yaml"), folder.join("out.yaml")).unwrap();
            symlink(folder.join("sub/tray.yaml"), folder.join("in.yaml")).unwrap();
            let refused = includes.read("out.yaml").unwrap_err();
            assert!(refused.contains("leads out"), "{refused}");
            assert_eq!(includes.read("in.yaml"), Ok(b"a".to_vec()));
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_device_is_not_read() {
        let refused = read_text(Path::new("/dev/zero")).unwrap_err();
        assert!(refused.contains("device"), "{refused}");
    }

    #[test]
    fn no_more_is_read_of_a_file_than_tells_that_it_is_too_large() {
        let file = tempfile::NamedTempFile::new().unwrap();
        file.as_file().set_len(2 * MAX_FILE_BYTES as u64).unwrap();
        let refused = read_text(file.path()).unwrap_err();
        assert!(refused.contains("more than"), "{refused}");
        assert_eq!(read_yaml(file.path()).unwrap().len(), MAX_FILE_BYTES + 1);
        file.as_file().set_len(MAX_FILE_BYTES as u64).unwrap();
        assert_eq!(read_text(file.path()).unwrap().len(), MAX_FILE_BYTES);
    }
}
