//! Files that the user names, outside the output folder: none that is there is overwritten without `--force`.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use crate::disk::in_words;
use crate::exit::Problem;
use crate::styled::shown;
use crate::write::{There, create, replace, what_is};

/// Writes files, and makes their folders where there are none. Where one of them cannot be written since another file is
/// in the way, none is.
///
/// # Errors
/// When other files are in the way, unless `force` is given; when the disk refuses.
pub fn write_all(files: &[(PathBuf, Vec<u8>)], force: bool) -> Result<(), Problem> {
    let failed = |path: &Path, error: &std::io::Error| {
        let message = format!("{} cannot be written: {}", shown(path), in_words(error));
        Problem::disk(message)
    };
    let mut ahead = Vec::new();
    for (path, bytes) in files {
        let there = what_is(path).map_err(|error| failed(path, &error))?;
        match there {
            There::Nothing => {}
            There::File if is_same(path, bytes) => continue,
            There::Folder => return Err(in_the_way(path).fix("give another name")),
            There::File | There::Link | There::Other if force => {}
            There::File | There::Link | There::Other => {
                return Err(in_the_way(path).fix("choose another --out, or add --force"));
            }
        }
        ahead.push((path, bytes, there));
    }
    for (path, bytes, there) in ahead {
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder).map_err(|error| failed(path, &error))?;
        }
        let written = match there {
            There::Nothing => create(path, bytes),
            _ => replace(path, bytes),
        };
        written.map_err(|error| match error.kind() {
            // It came while we wrote.
            ErrorKind::AlreadyExists => in_the_way(path).fix("run it again"),
            _ => failed(path, &error),
        })?;
    }
    Ok(())
}

fn is_same(path: &Path, bytes: &[u8]) -> bool {
    let length = fs::metadata(path).map(|about| about.len());
    length.is_ok_and(|length| length == bytes.len() as u64)
        && fs::read(path).is_ok_and(|there| there == bytes)
}

fn in_the_way(path: &Path) -> Problem {
    Problem::disk(format!(
        "{} is in the way; nothing was written",
        shown(path)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_there_stays_without_force() {
        let root = tempfile::tempdir().unwrap();
        let at = |name: &str| root.path().join(name);
        let files = |text: &str| {
            let file = |name: &str| (at(name), text.as_bytes().to_vec());
            [file("new/a"), file("new/b")]
        };
        write_all(&files("one"), false).unwrap();
        write_all(&files("one"), false).unwrap();
        fs::remove_file(at("new/a")).unwrap();
        let refused = write_all(&files("two"), false).unwrap_err();
        assert!(refused.message.contains('b'), "{refused:?}");
        assert!(!at("new/a").exists(), "all or none");
        write_all(&files("two"), true).unwrap();
        assert_eq!(fs::read(at("new/b")).unwrap(), b"two");
        fs::create_dir(at("folder")).unwrap();
        assert!(write_all(&[(at("folder"), Vec::new())], true).is_err());
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_replaced_and_never_followed() {
        use std::os::unix::fs::symlink;
        let root = tempfile::tempdir().unwrap();
        let (away, link) = (root.path().join("away"), root.path().join("link"));
        symlink(&away, &link).unwrap();
        let files = [(link.clone(), b"x".to_vec())];
        write_all(&files, false).unwrap_err();
        assert!(!away.exists());
        write_all(&files, true).unwrap();
        assert!(!away.exists() && !link.is_symlink());
    }
}
