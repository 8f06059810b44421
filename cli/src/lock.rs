//! One run at a time in a folder for output. The system itself gives a lock back when its holder ends, however it ends:
//! a killed run never blocks the next one.

use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use crate::disk::in_words;
use crate::exit::Problem;
use crate::shard::Shard;
use crate::styled::shown;
use crate::write::{There, what_is};

/// The file that is locked. It goes at the end of a run; what a killed run leaves of it does no harm.
pub const LOCK: &str = ".jigless.lock";

/// How files are locked. The program asks the system; tests are disks that know no locks.
pub trait Locking {
    /// Locks a file for its holder alone.
    ///
    /// # Errors
    /// When somebody holds it, or the disk refuses.
    fn alone(&self, file: &File) -> Result<(), TryLockError>;
    /// Locks a file together with others.
    ///
    /// # Errors
    /// When somebody holds it alone, or the disk refuses.
    fn shared(&self, file: &File) -> Result<(), TryLockError>;
}

/// Asks the system.
#[derive(Debug, Clone, Copy)]
pub struct System;

impl Locking for System {
    fn alone(&self, file: &File) -> Result<(), TryLockError> {
        file.try_lock()
    }

    fn shared(&self, file: &File) -> Result<(), TryLockError> {
        file.try_lock_shared()
    }
}

/// The right to write into a folder for output, as long as it is held.
#[derive(Debug)]
pub struct Lock {
    held: Vec<Held>,
    /// The folder, if it was made here: it goes again when nothing was written into it.
    made: Option<PathBuf>,
}

#[derive(Debug)]
struct Held {
    path: PathBuf,
    file: File,
    /// Whether it is held by being there, on a disk that knows no locks.
    by_name: bool,
}

impl Lock {
    /// Takes the folder, which is made where there is none. The shards of one library share it, as each writes other
    /// plans; the same shard does not run twice at once.
    ///
    /// # Errors
    /// When another run holds it, or the disk refuses.
    pub fn take(out: &Path, shard: Option<Shard>) -> Result<Self, Problem> {
        Self::take_by(&System, out, shard)
    }

    fn take_by(by: &dyn Locking, out: &Path, shard: Option<Shard>) -> Result<Self, Problem> {
        let made = (!out.exists()).then(|| out.to_owned());
        let mut lock = Self {
            held: Vec::new(),
            made,
        };
        fs::create_dir_all(out)
            .map_err(Refused::Disk)
            .and_then(|()| lock.add_all(by, out, shard))
            .map_err(|refused| refused.in_words(out))?;
        Ok(lock)
    }

    fn add_all(
        &mut self,
        by: &dyn Locking,
        out: &Path,
        shard: Option<Shard>,
    ) -> Result<(), Refused> {
        let whole = out.join(LOCK);
        let own = shard.map(|shard| out.join(name_of(shard)));
        let locked = self.add(by, &whole, own.is_some());
        let locked = match (locked, &own) {
            (Ok(()), Some(own)) => self.add(by, own, false),
            (locked, _) => locked,
        };
        match locked {
            Err(Refused::NoLocks) => self.add_by_name(out, own.as_deref().unwrap_or(&whole)),
            locked => locked,
        }
    }

    fn add(&mut self, by: &dyn Locking, path: &Path, shared: bool) -> Result<(), Refused> {
        // The holder before may have removed the file between our opening and our locking of it.
        for _ in 0..100 {
            let (file, is_new) = match open(path) {
                Err(Refused::Disk(error)) => match error.kind() {
                    // Another run made it at this very moment.
                    io::ErrorKind::AlreadyExists => continue,
                    // The holder before took its empty folder away at this very moment.
                    io::ErrorKind::NotFound => {
                        path.parent().map_or(Ok(()), fs::create_dir_all)?;
                        continue;
                    }
                    _ => return Err(Refused::Disk(error)),
                },
                opened => opened?,
            };
            let locked = if shared {
                by.shared(&file)
            } else {
                by.alone(&file)
            };
            match locked.map_err(Refused::from) {
                Ok(()) => {}
                Err(Refused::NoLocks) => {
                    if !is_new {
                        return Err(Refused::PerhapsHeld(path.to_owned()));
                    }
                    fs::remove_file(path)?;
                    return Err(Refused::NoLocks);
                }
                Err(refused) => return Err(refused),
            }
            if is_still(path, &file) {
                self.held.push(Held {
                    path: path.to_owned(),
                    file,
                    by_name: false,
                });
                return Ok(());
            }
        }
        Err(Refused::Held)
    }

    /// Where files cannot be locked, a run holds the folder by a file that only one run can make. A killed run leaves it,
    /// and only the user can know that nobody is at work.
    fn add_by_name(&mut self, out: &Path, own: &Path) -> Result<(), Refused> {
        let file = match File::options().write(true).create_new(true).open(own) {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
                return Err(Refused::PerhapsHeld(own.to_owned()));
            }
            opened => opened?,
        };
        self.held.push(Held {
            path: own.to_owned(),
            file,
            by_name: true,
        });
        let whole = out.join(LOCK);
        let is_whole = own == whole;
        for entry in fs::read_dir(out)?.flatten() {
            let path = entry.path();
            let other = path != own && (path == whole || is_whole && is_of_a_shard(&path));
            if other {
                return Err(Refused::PerhapsHeld(path));
            }
        }
        Ok(())
    }
}

fn name_of(shard: Shard) -> String {
    format!(".jigless.{}-of-{}.lock", shard.number, shard.count)
}

fn is_of_a_shard(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let middle = name
        .strip_prefix(".jigless.")
        .and_then(|n| n.strip_suffix(".lock"));
    middle.is_some_and(|middle| middle.contains("-of-"))
}

/// Opens the file of a lock, and tells whether it was made here. It is never made through a link, which could lead
/// anywhere.
fn open(path: &Path) -> Result<(File, bool), Refused> {
    let mut options = File::options();
    options.read(true).write(true);
    match what_is(path)? {
        There::Nothing => Ok((options.create_new(true).open(path)?, true)),
        There::File => Ok((options.open(path)?, false)),
        There::Folder | There::Link | There::Other => Err(Refused::InTheWay(path.to_owned())),
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        for Held {
            path,
            file,
            by_name,
        } in self.held.drain(..).rev()
        {
            // A file that others still share stays for them. It is only tidying: failures leave an empty file.
            let is_alone = by_name || file.unlock().is_ok() && file.try_lock().is_ok();
            if is_alone && is_still(&path, &file) {
                let _ = fs::remove_file(path);
            }
        }
        if let Some(made) = &self.made {
            // It stays, as it should, when anything is in it.
            let _ = fs::remove_dir(made);
        }
    }
}

#[derive(Debug)]
enum Refused {
    /// Another run holds it.
    Held,
    /// The disk knows no locks, and another run holds it or was killed.
    PerhapsHeld(PathBuf),
    /// The disk knows no locks.
    NoLocks,
    /// Something that is no plain file has the name of the lock.
    InTheWay(PathBuf),
    /// The disk refuses.
    Disk(io::Error),
}

impl Refused {
    fn in_words(self, out: &Path) -> Problem {
        let folder = shown(out);
        let into = format!("nothing can be written into {folder}");
        match self {
            Self::Held => Problem::disk(format!("another run of Jigless is writing into {folder}"))
                .fix("wait for its end, or choose another --out"),
            Self::PerhapsHeld(path) => Problem::disk(format!(
                "another run of Jigless may be writing into {folder}: this disk does not know locks, and {} is there",
                shown(&path)
            ))
            .fix("wait for its end; if no run is at work, remove that file"),
            Self::NoLocks => Problem::disk(format!("{into}: this disk does not know locks"))
                .fix("choose another --out"),
            Self::InTheWay(path) => {
                Problem::disk(format!("{into}: {} is not a plain file", shown(&path)))
                    .fix("remove it, or choose another --out")
            }
            Self::Disk(error) => Problem::disk(format!("{into}: {}", in_words(&error)))
                .fix("choose another --out, or mend this one"),
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
            TryLockError::Error(error) if knows_no_locks(&error) => Self::NoLocks,
            TryLockError::Error(error) => Self::Disk(error),
        }
    }
}

/// Whether a disk refuses because it does not know locks at all.
fn knows_no_locks(error: &io::Error) -> bool {
    #[cfg(unix)]
    {
        use rustix::io::Errno;
        let none = [Errno::NOLCK, Errno::NOSYS, Errno::NOTSUP, Errno::OPNOTSUPP];
        if Errno::from_io_error(error).is_some_and(|errno| none.contains(&errno)) {
            return true;
        }
    }
    error.kind() == io::ErrorKind::Unsupported
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

    /// A disk that knows no locks.
    struct NoLocks;

    impl Locking for NoLocks {
        fn alone(&self, _: &File) -> Result<(), TryLockError> {
            Err(TryLockError::Error(io::ErrorKind::Unsupported.into()))
        }

        fn shared(&self, file: &File) -> Result<(), TryLockError> {
            self.alone(file)
        }
    }

    #[test]
    fn where_there_are_no_locks_a_name_holds_the_folder() {
        let out = tempfile::tempdir().unwrap();
        let shard = |text: &str| Some(text.parse().unwrap());
        let take = |shard| Lock::take_by(&NoLocks, out.path(), shard);
        let held = take(None).unwrap();
        for other in [None, shard("1/2")] {
            let refused = take(other).unwrap_err();
            assert!(
                refused.message.contains("does not know locks"),
                "{refused:?}"
            );
            assert!(refused.fix.unwrap().contains("remove that file"));
        }
        drop(held);
        assert_eq!(names(out.path()), 0);
        let one = take(shard("1/2")).unwrap();
        let two = take(shard("2/2")).unwrap();
        assert!(take(shard("2/2")).is_err());
        assert!(take(None).is_err());
        assert_eq!(names(out.path()), 2);
        drop((one, two));
        // What a killed run left is not taken for nobody's.
        fs::write(out.path().join(LOCK), "").unwrap();
        assert!(take(None).is_err());
        assert!(out.path().join(LOCK).exists());
    }

    #[cfg(unix)]
    #[test]
    fn no_lock_is_made_through_a_link() {
        use std::os::unix::fs::symlink;
        let away = tempfile::tempdir().unwrap();
        let out = tempfile::tempdir().unwrap();
        let target = away.path().join("made");
        for (name, shard) in [
            (LOCK, None),
            (".jigless.1-of-2.lock", Some("1/2".parse().unwrap())),
        ] {
            let link = out.path().join(name);
            symlink(&target, &link).unwrap();
            for _ in 0..2 {
                let refused = Lock::take(out.path(), shard).unwrap_err();
                assert!(refused.message.contains("not a plain file"), "{refused:?}");
            }
            assert!(!target.exists());
            fs::remove_file(link).unwrap();
        }
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
