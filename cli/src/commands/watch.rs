//! `jigless watch`: makes the files of plans again whenever somebody saves one.
//!
//! After a change the paths are searched again, which finds new, renamed and removed plans, and every plan beside which
//! something has changed goes through an ordinary export: what is as it should be is left alone, and a plan with errors
//! keeps its last good files.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::time::Duration;

use super::faults;
use crate::args::WatchArgs;
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
use crate::watching::{News, Watch, Watched, absolute};

/// How long it must be quiet before files are made: programs that save many files at once are waited for.
const QUIET: Duration = Duration::from_millis(100);

/// Exports all plans, and then again those that change, until it is stopped.
pub fn run(args: &WatchArgs, console: &mut Console) -> Exit {
    let mut formats = match formats_of(&args.make) {
        Ok(formats) => formats,
        Err(faults) => return faults::report(faults, console),
    };
    let watched = Watched {
        paths: &args.make.run.paths,
        profile: args.make.choice.profile.as_deref(),
        out: Some(&args.make.out),
        quiet: QUIET,
    };
    let started =
        Watch::start(&watched).and_then(|watch| Ok((watch, Lock::take(&args.make.out, None)?)));
    let (mut watch, _lock) = match started {
        Ok(started) => started,
        Err(problem) => {
            console::problem(&problem);
            return problem.exit;
        }
    };
    let mut reported = Reported::default();
    let mut news = News {
        everything: true,
        ..News::default()
    };
    loop {
        console.report(&news.messages);
        if let Err(problem) = round(args, &formats, &news, &mut reported, console) {
            console::problem(&problem);
        }
        if news.everything {
            console.out("watching for changes; Ctrl-C ends it\n");
        }
        news = match watch.next() {
            Some(news) => news,
            None => return Exit::Done,
        };
        // A profile that is saved with a fault leaves the options as they were.
        if watch.is_profile_among(&news) {
            match formats_of(&args.make) {
                Ok(settled) => {
                    formats = settled;
                    news.everything = true;
                }
                Err(faults) => drop(faults::report(faults, console)),
            }
        }
    }
}

/// One search and one export of what may have changed.
fn round(
    args: &WatchArgs,
    formats: &[Chosen],
    news: &News,
    reported: &mut Reported,
    console: &mut Console,
) -> Result<(), Problem> {
    let export = &args.make;
    let Found {
        mut plans,
        mut problems,
        ..
    } = find(&export.run.paths, Some(&export.out));
    let ids: Vec<&str> = formats.iter().map(|format| format.id()).collect();
    let clashes = check_apart(&plans, &ids);
    if !clashes.is_empty() {
        plans.clear();
    }
    problems.extend(clashes);
    reported.problems(&problems);
    reported.forget_all_but(&plans, console);
    if !news.everything {
        plans.retain(|plan| reported.is_new(plan) || is_beside(plan, &news.paths));
    }
    let date = effective_date(export.date, std::env::var_os("SOURCE_DATE_EPOCH"))?;
    let pool = threads(export.run.jobs)?;
    // Every plan prints its line: this is what somebody who has just saved one looks for.
    let work = Run::new(export, formats, date, false, false);
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
