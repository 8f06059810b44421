//! `jigless watch`: makes the files of plans again whenever somebody saves one.
//!
//! The folders are watched, not the files: programs that save by writing another file and renaming it would leave us
//! watching what is no longer there. After a change the paths are searched again, which finds new, renamed and removed
//! plans, and every plan beside which something has changed goes through an ordinary export: what is as it should be
//! is left alone, and a plan with errors keeps its last good files.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::time::{Duration, Instant};

use notify::{Event, EventKind, RecursiveMode, Watcher};

use super::faults;
use crate::args::{MakeArgs, WatchArgs};
use crate::batch::{Deed, Outcome, Tally, for_each_plan, threads};
use crate::choice::Chosen;
use crate::console::{self, Console};
use crate::date::effective_date;
use crate::exit::{Exit, Problem};
use crate::export::{Run, export_plan, formats_of};
use crate::find::{Found, PlanAt, check_apart, find};
use crate::lock::Lock;
use crate::message::Message;
use crate::progress::Progress;
use crate::styled::shown;

/// How long it must be quiet before anything is done: a save is several events.
const QUIET: Duration = Duration::from_millis(100);
/// How long the quiet is waited for.
const PATIENCE: Duration = Duration::from_secs(2);

/// Exports all plans, and then again those that change, until it is stopped.
pub fn run(args: &WatchArgs, console: &mut Console) -> Exit {
    let mut exporters = match formats_of(&args.make) {
        Ok(exporters) => exporters,
        Err(faults) => return faults::report(faults, console),
    };
    let (events, changes) = mpsc::channel();
    let started = Watch::start(&args.make, events)
        .and_then(|watch| Ok((watch, Lock::take(&args.make.out, None)?)));
    let (mut watch, _lock) = match started {
        Ok(started) => started,
        Err(problem) => {
            console::problem(&problem);
            return problem.exit;
        }
    };
    let mut reported = Reported::default();
    let mut changed: Option<BTreeSet<PathBuf>> = None;
    loop {
        // A profile that is saved with a fault leaves the options as they were.
        if watch.is_profile_among(changed.as_ref()) {
            match formats_of(&args.make) {
                Ok(settled) => {
                    exporters = settled;
                    changed = None;
                }
                Err(faults) => drop(faults::report(faults, console)),
            }
        }
        if let Err(problem) = round(args, &exporters, changed.as_ref(), &mut reported, console) {
            console::problem(&problem);
        }
        if changed.is_none() {
            console.out("watching for changes; Ctrl-C ends it\n");
        }
        match watch.next(&changes) {
            Some(paths) => changed = Some(paths),
            None => return Exit::Done,
        }
    }
}

/// One search and one export of what may have changed: everything where `changed` is none.
fn round(
    args: &WatchArgs,
    exporters: &[Chosen],
    changed: Option<&BTreeSet<PathBuf>>,
    reported: &mut Reported,
    console: &mut Console,
) -> Result<(), Problem> {
    let export = &args.make;
    let Found {
        mut plans,
        mut problems,
        ..
    } = find(&export.run.paths, Some(&export.out));
    let ids: Vec<&str> = exporters.iter().map(|exporter| exporter.id()).collect();
    let clashes = check_apart(&plans, &ids);
    if !clashes.is_empty() {
        plans.clear();
    }
    problems.extend(clashes);
    reported.problems(&problems);
    reported.forget_all_but(&plans, console);
    if let Some(changed) = changed {
        plans.retain(|plan| reported.is_new(plan) || is_beside(plan, changed));
    }
    let date = effective_date(export.date, std::env::var_os("SOURCE_DATE_EPOCH"))?;
    let pool = threads(export.run.jobs)?;
    // Every plan prints its line: this is what somebody who has just saved one looks for.
    let work = Run::new(export, exporters, date, false, false);
    let outcomes = std::sync::Mutex::new(BTreeMap::new());
    let mut silent = Console::new(true, args.make.run.findings);
    for_each_plan(
        &plans,
        false,
        &pool,
        &mut silent,
        &mut Tally::default(),
        |plan: &PlanAt, progress: &Progress| {
            let outcome = export_plan(&work, plan, progress);
            if let Ok(mut outcomes) = outcomes.lock() {
                outcomes.insert(plan.name.clone(), outcome);
            }
            Outcome::default()
        },
    );
    for (name, outcome) in outcomes.into_inner().unwrap_or_default() {
        reported.plan(&name, &outcome, console);
    }
    Ok(())
}

/// Whether something changed in the folder of a plan, from which it also includes.
fn is_beside(plan: &PlanAt, changed: &BTreeSet<PathBuf>) -> bool {
    let file = absolute(&plan.file);
    let folder = file.parent().unwrap_or(&file);
    // A folder above that was moved or removed changes all that is in it.
    changed
        .iter()
        .any(|path| path.starts_with(folder) || folder.starts_with(path))
}

fn absolute(path: &Path) -> PathBuf {
    std::fs::canonicalize(path)
        .or_else(|_| std::path::absolute(path))
        .unwrap_or_else(|_| path.to_owned())
}

/// What was printed of each plan, so that only news is.
#[derive(Default)]
struct Reported {
    messages: BTreeMap<String, Vec<Message>>,
    problems: Vec<Problem>,
}

impl Reported {
    fn is_new(&self, plan: &PlanAt) -> bool {
        !self.messages.contains_key(&plan.name)
    }

    /// Prints problems of finding plans that are not the ones of before.
    fn problems(&mut self, problems: &[Problem]) {
        for problem in problems {
            if !self.problems.contains(problem) {
                console::problem(problem);
            }
        }
        self.problems = problems.to_vec();
    }

    fn plan(&mut self, name: &str, outcome: &Outcome, console: &mut Console) {
        let before = self
            .messages
            .insert(name.to_owned(), outcome.messages.clone());
        let before = before.unwrap_or_default();
        let news = before != outcome.messages;
        if news && !outcome.messages.is_empty() {
            console.report(&outcome.messages);
        }
        if outcome.exit == Exit::Done && outcome.deed == Deed::Unchanged {
            if news && outcome.messages.is_empty() {
                console.out(&format!(
                    "{name}: mended; its files are as they should be\n"
                ));
            }
        } else if outcome.exit == Exit::Done || news {
            let mended = if news && outcome.messages.is_empty() {
                "mended; "
            } else {
                ""
            };
            console.out(&outcome.line.replacen(": ", &format!(": {mended}"), 1));
        }
    }

    /// Says which plans are gone. Their files stay: whoever renames a plan may still want them.
    fn forget_all_but(&mut self, plans: &[PlanAt], console: &mut Console) {
        let names: BTreeSet<&str> = plans.iter().map(|plan| plan.name.as_str()).collect();
        self.messages.retain(|name, _| {
            let stays = names.contains(name.as_str());
            if !stays {
                console.out(&format!("{name}: the plan is gone; its files stay\n"));
            }
            stays
        });
    }
}

/// The watched folders.
struct Watch {
    /// Watches as long as it lives.
    _watcher: notify::RecommendedWatcher,
    out: PathBuf,
    profile: Option<PathBuf>,
}

impl Watch {
    fn start(
        args: &MakeArgs,
        events: mpsc::Sender<notify::Result<Event>>,
    ) -> Result<Self, Problem> {
        let refused =
            |error: &notify::Error| Problem::disk(format!("nothing can be watched: {error}"));
        let mut watcher = notify::recommended_watcher(events).map_err(|error| refused(&error))?;
        let mut folders = BTreeMap::new();
        for path in &args.run.paths {
            let path = absolute(path);
            let folder = if path.is_dir() { path } else { parent(&path) };
            folders.insert(folder, RecursiveMode::Recursive);
        }
        let profile = args.choice.profile.as_deref().map(absolute);
        if let Some(profile) = &profile {
            let folder = folders.entry(parent(profile));
            folder.or_insert(RecursiveMode::NonRecursive);
        }
        for (folder, mode) in &folders {
            watcher.watch(folder, *mode).map_err(|error| {
                Problem::usage(format!("{} cannot be watched: {error}", shown(folder)))
            })?;
        }
        Ok(Self {
            _watcher: watcher,
            out: absolute(&args.out),
            profile,
        })
    }

    /// The paths of the next changes, once it is quiet; none where the system stops telling.
    fn next(&mut self, changes: &Receiver<notify::Result<Event>>) -> Option<BTreeSet<PathBuf>> {
        let mut paths = BTreeSet::new();
        loop {
            self.add(changes.recv().ok()?, &mut paths);
            if paths.is_empty() {
                continue;
            }
            let end = Instant::now() + PATIENCE;
            while Instant::now() < end {
                match changes.recv_timeout(QUIET) {
                    Ok(event) => self.add(event, &mut paths),
                    Err(RecvTimeoutError::Timeout) => break,
                    Err(RecvTimeoutError::Disconnected) => return None,
                }
            }
            return Some(paths);
        }
    }

    /// Adds the paths of an event, but for what only reads and for what we write ourselves.
    fn add(&self, event: notify::Result<Event>, paths: &mut BTreeSet<PathBuf>) {
        match event {
            Ok(event) if matches!(event.kind, EventKind::Access(_)) => {}
            Ok(event) if event.need_rescan() => {
                // Events were lost: everything may have changed.
                paths.insert(PathBuf::from("/"));
            }
            Ok(event) => {
                let of_others = event.paths.into_iter();
                paths.extend(of_others.filter(|path| !path.starts_with(&self.out)));
            }
            Err(error) => paths.extend(error.paths),
        }
    }

    fn is_profile_among(&self, changed: Option<&BTreeSet<PathBuf>>) -> bool {
        let profile = self.profile.as_ref();
        changed.is_some_and(|paths| profile.is_some_and(|profile| paths.contains(profile)))
    }
}

fn parent(path: &Path) -> PathBuf {
    path.parent().unwrap_or(path).to_owned()
}
