//! One run at a time in a folder for output. The system itself gives a lock back when its holder ends, however it ends:
//! a killed run never blocks the next one.

use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use crate::disk::in_words;
use crate::exit::Problem;
use crate::shard::Shard;

/// The file that is locked. It goes at the end of a run; what a killed run leaves of it does no harm.
pub const LOCK: &str = ".jigless.lock";

/// The right to write into a folder for output, as long as it is held.
#[derive(Debug)]
pub struct Lock {
    held: Vec<(PathBuf, File)>,
    /// The folder, if it was made here: it goes again when nothing was written into it.
    made: Option<PathBuf>,
}

impl Lock {
    /// Takes the folder, which is made where there is none. The shards of one library share it, as each writes other
    /// plans; the same shard does not run twice at once.
    ///
    /// # Errors
    /// When another run holds it, or the disk refuses.
    pub fn take(out: &Path, shard: Option<Shard>) -> Result<Self, Problem> {
        let refused = |error: &io::Error| {
            Problem::disk(format!(
                "nothing can be written into {}: {}",
                out.display(),
                in_words(error)
            ))
            .fix("choose another --out, or mend this one")
        };
        let made = (!out.exists()).then(|| out.to_owned());
        fs::create_dir_all(out).map_err(|error| refused(&error))?;
        let mut lock = Self {
            held: Vec::new(),
            made,
        };
        if let Some(shard) = shard {
            lock.add(out.join(LOCK), true)
                .map_err(|e| e.told(out, &refused))?;
            let own = format!(".jigless.{}-of-{}.lock", shard.number, shard.count);
            lock.add(out.join(own), false)
        } else {
            lock.add(out.join(LOCK), false)
        }
        .map_err(|e| e.told(out, &refused))?;
        Ok(lock)
    }

    fn add(&mut self, path: PathBuf, shared: bool) -> Result<(), Refused> {
        // The holder before may have removed the file between our opening and our locking of it.
        for _ in 0..100 {
            let opened = File::options()
                .create(true)
                .truncate(false)
                .read(true)
                .write(true)
                .open(&path);
            let file = match opened {
                // The holder before took its empty folder away at this very moment.
                Err(error) if error.kind() == io::ErrorKind::NotFound => {
                    path.parent().map_or(Ok(()), fs::create_dir_all)?;
                    continue;
                }
                other => other?,
            };
            if shared {
                file.try_lock_shared()?;
            } else {
                file.try_lock()?;
            }
            if is_still(&path, &file) {
                self.held.push((path, file));
                return Ok(());
            }
        }
        Err(Refused::Held)
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        for (path, file) in self.held.drain(..).rev() {
            // A file that others still share stays for them. It is only tidying: failures leave an empty file.
            if file.unlock().is_ok() && file.try_lock().is_ok() && is_still(&path, &file) {
                let _ = fs::remove_file(path);
            }
        }
        if let Some(made) = &self.made {
            // It stays, as it should, when anything is in it.
            let _ = fs::remove_dir(made);
        }
    }
}

enum Refused {
    Held,
    Disk(io::Error),
}

impl Refused {
    fn told(self, out: &Path, refused: &impl Fn(&io::Error) -> Problem) -> Problem {
        match self {
            Self::Held => Problem::disk(format!(
                "another run of Jigless is writing into {}",
                out.display()
            ))
            .fix("wait for its end, or choose another --out"),
            Self::Disk(error) => refused(&error),
        }
    }
}

impl From<io::Error> for Refused {
    fn from(error: io::Error) -> Self {
        Self::Disk(error)
    }
}

impl From<TryLockError> for Refused {
    fn from(error: TryLockError) -> Self {
        match error {
            TryLockError::WouldBlock => Self::Held,
            TryLockError::Error(error) => Self::Disk(error),
        }
    }
}

/// Whether an open file is still the one that has the name.
#[cfg(unix)]
fn is_still(path: &Path, file: &File) -> bool {
    use std::os::unix::fs::MetadataExt;
    match (fs::symlink_metadata(path), file.metadata()) {
        (Ok(there), Ok(ours)) => (there.dev(), there.ino()) == (ours.dev(), ours.ino()),
        _ => false,
    }
}

/// Elsewhere an open file keeps its name.
#[cfg(not(unix))]
fn is_still(path: &Path, _: &File) -> bool {
    path.exists()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(out: &Path) -> usize {
        // A folder in which nothing was written is gone.
        fs::read_dir(out).map_or(0, Iterator::count)
    }

    #[test]
    fn a_folder_is_taken_once_and_left_clean() {
        let root = tempfile::tempdir().unwrap();
        let out = root.path().join("a/out");
        let held = Lock::take(&out, None).unwrap();
        let refused = Lock::take(&out, None).unwrap_err();
        assert!(refused.message.contains("another run"), "{refused:?}");
        drop(held);
        assert_eq!(names(&out), 0);
        // A file that a killed run left is not held by anybody.
        fs::create_dir_all(&out).unwrap();
        fs::write(out.join(LOCK), "").unwrap();
        drop(Lock::take(&out, None).unwrap());
        assert_eq!(names(&out), 0);
    }

    #[test]
    fn shards_share_and_the_same_one_does_not() {
        let out = tempfile::tempdir().unwrap();
        let shard = |text: &str| Some(text.parse().unwrap());
        let one = Lock::take(out.path(), shard("1/2")).unwrap();
        let two = Lock::take(out.path(), shard("2/2")).unwrap();
        assert!(Lock::take(out.path(), shard("2/2")).is_err());
        assert!(Lock::take(out.path(), None).is_err());
        drop(one);
        assert!(Lock::take(out.path(), None).is_err());
        drop(two);
        assert_eq!(names(out.path()), 0);
    }

    #[test]
    fn a_file_in_place_of_the_folder_is_named() {
        let root = tempfile::tempdir().unwrap();
        let out = root.path().join("file");
        fs::write(&out, "x").unwrap();
        let refused = Lock::take(&out, None).unwrap_err();
        assert!(refused.message.contains("file"), "{refused:?}");
    }
}
