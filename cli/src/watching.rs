//! Watching folders for changes: what has changed once it is quiet, and folders that go and come back.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::time::{Duration, Instant, SystemTime};

use jigless_core::diag::Severity;
use notify::event::ModifyKind;
use notify::{Event, EventKind, RecommendedWatcher, RecursiveMode, Watcher};

use crate::exit::Problem;
use crate::message::Message;
use crate::styled::shown;

/// How long the quiet is waited for.
const PATIENCE: Duration = Duration::from_secs(2);
/// How often is looked whether the folders are still there: nothing says that one has come back.
const LOOK: Duration = Duration::from_millis(500);

/// What came to pass.
#[derive(Debug, Default)]
pub struct News {
    /// The paths that changed.
    pub paths: BTreeSet<PathBuf>,
    /// Whether anything may have changed.
    pub everything: bool,
    /// What the user should know of the watching itself.
    pub messages: Vec<Message>,
}

impl News {
    fn is_empty(&self) -> bool {
        self.paths.is_empty() && !self.everything && self.messages.is_empty()
    }

    fn warn(&mut self, message: &str, hint: &str) {
        self.messages
            .push(Message::remark(Severity::Warning, message, hint));
    }
}

/// A watched folder.
#[derive(Debug)]
struct Folder {
    mode: RecursiveMode,
    /// Which folder is watched under the name; none while there is none.
    watched: Option<Identity>,
    /// Whether the user knows that it cannot be watched.
    reported: bool,
}

/// What tells a folder from another one of the same name.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Identity {
    created: Option<SystemTime>,
    number: u64,
}

impl Identity {
    fn of(folder: &Path) -> Option<Self> {
        let about = fs::metadata(folder).ok().filter(fs::Metadata::is_dir)?;
        #[cfg(unix)]
        let number = std::os::unix::fs::MetadataExt::ino(&about);
        #[cfg(not(unix))]
        let number = 0;
        Some(Self {
            created: about.created().ok(),
            number,
        })
    }
}

/// The watched folders.
pub struct Watch {
    watcher: RecommendedWatcher,
    changes: Receiver<notify::Result<Event>>,
    folders: BTreeMap<PathBuf, Folder>,
    profile: Option<PathBuf>,
    out: Option<PathBuf>,
    quiet: Duration,
}

/// What is watched.
pub struct Watched<'a> {
    /// Plan files, and folders of them.
    pub paths: &'a [PathBuf],
    /// The profile.
    pub profile: Option<&'a Path>,
    /// The folder that we write into ourselves.
    pub out: Option<&'a Path>,
    /// How long it must be quiet before anything is done: a save is several events.
    pub quiet: Duration,
}

impl Watch {
    /// Watches the folders of the plans and of the profile. The folders are watched, not the files: programs that save by
    /// writing another file and renaming it would leave us watching what is no longer there.
    ///
    /// # Errors
    /// When one of them cannot be watched.
    pub fn start(watched: &Watched) -> Result<Self, Problem> {
        let (events, changes) = mpsc::channel();
        let mut watcher = notify::recommended_watcher(events)
            .map_err(|error| Problem::disk(format!("nothing can be watched: {error}")))?;
        let mut modes = BTreeMap::new();
        for path in watched.paths {
            let path = absolute(path);
            let folder = if path.is_dir() { path } else { parent(&path) };
            modes.insert(folder, RecursiveMode::Recursive);
        }
        let profile = watched.profile.map(absolute);
        if let Some(profile) = &profile {
            let mode = modes.entry(parent(profile));
            mode.or_insert(RecursiveMode::NonRecursive);
        }
        let mut folders = BTreeMap::new();
        for (folder, mode) in modes {
            watcher.watch(&folder, mode).map_err(|error| {
                Problem::usage(format!("{} cannot be watched: {error}", shown(&folder)))
            })?;
            let watched = Identity::of(&folder);
            let state = Folder {
                mode,
                watched,
                reported: false,
            };
            folders.insert(folder, state);
        }
        Ok(Self {
            watcher,
            changes,
            folders,
            profile,
            out: watched.out.map(absolute),
            quiet: watched.quiet,
        })
    }

    /// The next changes, once it is quiet; none where the system stops telling.
    pub fn next(&mut self) -> Option<News> {
        loop {
            let mut news = News::default();
            match self.changes.recv_timeout(LOOK) {
                Ok(event) => self.add(event, &mut news),
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => return None,
            }
            self.look(&mut news);
            if news.is_empty() {
                continue;
            }
            let end = Instant::now() + PATIENCE;
            while Instant::now() < end {
                match self.changes.recv_timeout(self.quiet) {
                    Ok(event) => self.add(event, &mut news),
                    Err(RecvTimeoutError::Timeout) => break,
                    Err(RecvTimeoutError::Disconnected) => return None,
                }
            }
            return Some(news);
        }
    }

    /// Looks whether the folders are still the ones that are watched, and watches those that came back.
    fn look(&mut self, news: &mut News) {
        for (path, folder) in &mut self.folders {
            let there = Identity::of(path);
            if there == folder.watched {
                continue;
            }
            if folder.watched.take().is_some() {
                // What it still watches is another folder by now, or none.
                let _ = self.watcher.unwatch(path);
                if there.is_none() {
                    let message = format!("{} is gone, and nothing in it is seen", shown(path));
                    news.warn(&message, "it is watched again as soon as it is back");
                }
            }
            if there.is_none() {
                continue;
            }
            match self.watcher.watch(path, folder.mode) {
                Ok(()) => {
                    folder.watched = there;
                    folder.reported = false;
                    news.everything = true;
                }
                Err(error) if !folder.reported => {
                    folder.reported = true;
                    let message = format!("{} cannot be watched: {error}", shown(path));
                    news.warn(&message, "changes in it are not seen until it can be");
                }
                Err(_) => {}
            }
        }
    }

    /// Adds what an event tells, but for what only reads and for what we write ourselves.
    fn add(&mut self, event: notify::Result<Event>, news: &mut News) {
        match event {
            Ok(event) if matches!(event.kind, EventKind::Access(_)) => {}
            Ok(event) => {
                // Events were lost: everything may have changed.
                news.everything |= event.need_rescan();
                let goes = matches!(
                    event.kind,
                    EventKind::Remove(_) | EventKind::Modify(ModifyKind::Name(_))
                );
                for path in event.paths {
                    if goes && let Some(folder) = self.folders.get_mut(&path) {
                        // Its successor may have all that tells one folder from another, but not the watch.
                        if let Some(watched) = &mut folder.watched {
                            watched.created = None;
                            watched.number = 0;
                        }
                    }
                    let is_ours = |out: &PathBuf| path.starts_with(out);
                    if !self.out.as_ref().is_some_and(is_ours) {
                        news.paths.insert(path);
                    }
                }
            }
            Err(error) => {
                let message = format!("some changes may not be seen: {error}");
                news.warn(&message, "save again, or start it anew");
                news.paths.extend(error.paths);
            }
        }
    }

    /// Whether the profile has changed.
    pub fn is_profile_among(&self, news: &News) -> bool {
        let profile = self.profile.as_ref();
        profile.is_some_and(|profile| news.everything || news.paths.contains(profile))
    }
}

/// A path from the root, links followed where it is there.
pub fn absolute(path: &Path) -> PathBuf {
    fs::canonicalize(path)
        .or_else(|_| std::path::absolute(path))
        .unwrap_or_else(|_| path.to_owned())
}

fn parent(path: &Path) -> PathBuf {
    path.parent().unwrap_or(path).to_owned()
}
