//! Where a site is, where the next one is made, and how the one takes the place of the other.
//!
//! All that is not finished stands in a hidden folder beside the site: `next` is what will be the site. A run that is
//! killed leaves it there, and the next run goes on with it. Files that stay as they are get a second name there (a hard
//! link), so they take neither time nor room. No file of a site is ever changed: another one takes its name.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::PLANS;
use crate::disk::in_words;
use crate::exit::Problem;
use crate::lock::Lock;
use crate::manifest::{MANIFEST, Record, read_manifest};
use crate::shard::Shard;
use crate::styled::shown;
use crate::write::{There, replace, what_is};

/// The file by which a site is known as ours.
const MARK: &str = "site.json";
const MARK_TEXT: &str = "{\"jigless_site\": 1}\n";

/// A site and the next one.
#[derive(Debug)]
pub struct Place {
    site: PathBuf,
    work: PathBuf,
}

impl Place {
    /// The place of a site.
    ///
    /// # Errors
    /// When the folder holds something that is no site of ours, or cannot be looked at.
    pub fn of(site: &Path) -> Result<Self, Problem> {
        let site = std::path::absolute(site).map_err(|error| refused(site, &error))?;
        let name = site.file_name().and_then(|name| name.to_str());
        let Some((name, parent)) = name.zip(site.parent()) else {
            let problem = Problem::usage(format!("{} has no name", shown(&site)));
            return Err(problem.fix("name a folder for the site"));
        };
        let work = parent.join(format!(".{name}.jigless-work"));
        let place = Self { site, work };
        match what_is(&place.site).map_err(|error| refused(&place.site, &error))? {
            There::Nothing => {}
            There::Folder if place.is_ours_or_empty() => {}
            _ => {
                let message = format!("{} is no site that Jigless made", shown(&place.site));
                return Err(Problem::disk(message).fix("name a new folder, or an empty one"));
            }
        }
        Ok(place)
    }

    fn is_ours_or_empty(&self) -> bool {
        let mark = fs::read_to_string(self.site.join(MARK));
        mark.is_ok_and(|text| text == MARK_TEXT)
            || fs::read_dir(&self.site).is_ok_and(|mut entries| entries.next().is_none())
    }

    /// Where the next site is made.
    pub fn next(&self) -> PathBuf {
        self.work.join("next")
    }

    /// Where the plans of the next site are made.
    pub fn plans(&self) -> PathBuf {
        self.next().join(PLANS)
    }

    /// Takes the work for this run alone, or for this share of it; a run that was stopped between taking the site away and
    /// putting the next one there is ended first.
    ///
    /// # Errors
    /// When another run is at it, or the disk refuses.
    pub fn take(&self, shard: Option<Shard>) -> Result<Lock, Problem> {
        let lock = Lock::take(&self.work, shard)?;
        let last = self.work.join("last");
        if what_is(&self.site).is_ok_and(|there| there == There::Nothing) && last.is_dir() {
            fs::rename(&last, &self.site).map_err(|error| refused(&self.site, &error))?;
        }
        fs::create_dir_all(self.plans()).map_err(|error| refused(&self.work, &error))?;
        Ok(lock)
    }

    /// Gives the files of a plan of the site a second name in the next one, unless that has some already.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn take_over(&self, plan: &str) -> Result<(), Problem> {
        let (from, to) = (self.site.join(PLANS).join(plan), self.plans().join(plan));
        if to.join(MANIFEST).exists() {
            return Ok(());
        }
        let Ok(Record::Ours(manifest)) = read_manifest(&from) else {
            return Ok(());
        };
        let formats = manifest.exporters.iter().map(|format| format.id.as_str());
        let formats: BTreeSet<&str> = formats.collect();
        let take = || -> io::Result<()> {
            fs::create_dir_all(&to)?;
            for format in formats {
                if from.join(format).is_dir() {
                    link_all(&from.join(format), &to.join(format))?;
                }
            }
            for entry in fs::read_dir(&from)? {
                let entry = entry?;
                if entry.file_type()?.is_file() && entry.file_name() != MANIFEST {
                    link(&entry.path(), &to.join(entry.file_name()))?;
                }
            }
            // Last, since files that are newer than their record are read again.
            link(&from.join(MANIFEST), &to.join(MANIFEST))
        };
        take().map_err(|error| refused(&to, &error))
    }

    /// Removes from the next site all but these files, each by its path below it with `/` between names: what runs that were
    /// stopped left of other plans, of an earlier site, or under names that were to be given up.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn keep_only(&self, files: &BTreeSet<String>) -> Result<(), Problem> {
        keep_only(&self.next(), "", files)
    }

    /// Puts the next site in the place of the one that is there, in one step where the system can exchange two folders
    /// (Linux, macOS), and removes what is left.
    ///
    /// # Errors
    /// When the disk refuses; the site is the old one then.
    pub fn put(&self, lock: Lock) -> Result<(), Problem> {
        let next = self.next();
        let mark = next.join(MARK);
        replace(&mark, MARK_TEXT.as_bytes()).map_err(|error| refused(&mark, &error))?;
        let is_new = what_is(&self.site).is_ok_and(|there| there == There::Nothing);
        let put = if is_new {
            fs::rename(&next, &self.site)
        } else {
            exchange(&next, &self.site).or_else(|_| {
                // A run that is stopped between the two is ended by the next one: see `take`.
                let last = self.work.join("last");
                fs::rename(&self.site, &last)?;
                fs::rename(&next, &self.site)?;
                fs::rename(&last, &next)
            })
        };
        put.map_err(|error| refused(&self.site, &error))?;
        // The site is there; what is left beside it is only room on the disk, and the next run tries again.
        let _ = fs::remove_dir_all(&next);
        drop(lock);
        let _ = fs::remove_dir(&self.work);
        Ok(())
    }
}

#[cfg(any(target_os = "linux", target_vendor = "apple"))]
fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
}

#[cfg(not(any(target_os = "linux", target_vendor = "apple")))]
fn exchange(_: &Path, _: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// As [`Place::keep_only`], for a folder and what is below; folders that hold none of them go whole.
fn keep_only(folder: &Path, above: &str, files: &BTreeSet<String>) -> Result<(), Problem> {
    let at = |error: io::Error| refused(folder, &error);
    for entry in fs::read_dir(folder).map_err(at)? {
        let entry = entry.map_err(at)?;
        let path = entry.path();
        let name = entry.file_name().into_string().ok();
        let below = name.map(|name| format!("{above}{name}"));
        let is_folder = entry.file_type().map_err(at)?.is_dir();
        let removed = if is_folder {
            let inside = below.map(|below| format!("{below}/")).filter(|below| {
                let first = files.range(below.clone()..).next();
                first.is_some_and(|file| file.starts_with(below))
            });
            if let Some(inside) = inside {
                keep_only(&path, &inside, files)?;
                continue;
            }
            fs::remove_dir_all(&path)
        } else if below.is_some_and(|below| files.contains(&below)) {
            continue;
        } else {
            fs::remove_file(&path)
        };
        removed.map_err(|error| refused(&path, &error))?;
    }
    Ok(())
}

fn link_all(from: &Path, to: &Path) -> io::Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        let kind = entry.file_type()?;
        let target = to.join(entry.file_name());
        if kind.is_dir() {
            link_all(&entry.path(), &target)?;
        } else if kind.is_file() {
            link(&entry.path(), &target)?;
        }
    }
    Ok(())
}

/// A second name, or a copy on disks that know none. What a stopped run left under that name goes: it may be of another
/// plan or of an earlier site.
fn link(from: &Path, to: &Path) -> io::Result<()> {
    match fs::remove_file(to) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
        _ => {}
    }
    fs::hard_link(from, to).or_else(|_| fs::copy(from, to).map(drop))
}

/// A problem of the disk with a file or folder.
pub(super) fn refused(path: &Path, error: &io::Error) -> Problem {
    Problem::disk(format!("{}: {}", shown(path), in_words(error)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_with_other_things_is_no_site() {
        let root = tempfile::tempdir().unwrap();
        let site = root.path().join("site");
        fs::create_dir(&site).unwrap();
        Place::of(&site).unwrap();
        fs::write(site.join("notes.txt"), "mine").unwrap();
        let refused = Place::of(&site).unwrap_err();
        assert!(refused.message.contains("no site"), "{}", refused.message);
        fs::write(site.join(MARK), MARK_TEXT).unwrap();
        Place::of(&site).unwrap();
    }

    #[test]
    fn a_run_stopped_between_two_sites_is_ended_by_the_next() {
        let root = tempfile::tempdir().unwrap();
        let site = root.path().join("site");
        let place = Place::of(&site).unwrap();
        fs::create_dir_all(place.work.join("last")).unwrap();
        fs::write(place.work.join("last/index.html"), "old").unwrap();
        drop(place.take(None).unwrap());
        assert_eq!(fs::read_to_string(site.join("index.html")).unwrap(), "old");
    }

    #[test]
    fn what_a_stopped_run_left_gives_way_to_the_site() {
        let root = tempfile::tempdir().unwrap();
        let (site, left) = (root.path().join("site"), root.path().join("left"));
        fs::write(&site, "whole").unwrap();
        fs::write(&left, "stale").unwrap();
        link(&site, &left).unwrap();
        assert_eq!(fs::read_to_string(&left).unwrap(), "whole");
        link(&site, &root.path().join("new")).unwrap();
    }

    #[test]
    fn the_next_site_takes_the_place_of_the_last() {
        let root = tempfile::tempdir().unwrap();
        let site = root.path().join("site");
        for text in ["one", "two", "three"] {
            let place = Place::of(&site).unwrap();
            let lock = place.take(None).unwrap();
            fs::write(place.next().join("index.html"), text).unwrap();
            place.put(lock).unwrap();
            assert_eq!(fs::read_to_string(site.join("index.html")).unwrap(), text);
            assert!(!place.work.exists());
        }
    }
}
