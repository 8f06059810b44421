//! `jigless live`: a page that follows a plan while it is written.

use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::Duration;

use crate::args::LiveArgs;
use crate::batch::{Outcome, Tally};
use crate::console::{self, Console};
use crate::disk::folder_of;
use crate::exit::{Exit, Problem};
use crate::find::{PlanAt, find};
use crate::live::{Live, Shown, serve};
use crate::plans::plans_of;
use crate::report::tally;
use crate::styled::shown;
use crate::watching::{Watch, Watched};

/// How long it must be quiet after a save: a program that empties a file and then fills it needs less.
const QUIET: Duration = Duration::from_millis(12);
/// How often a plan that is found empty is looked at again before it is taken for empty.
const LOOKS: usize = 8;

/// Serves the page until it is stopped.
pub fn run(args: &LiveArgs, console: &mut Console) -> Exit {
    let plan = match only_plan(args, console) {
        Ok(plan) => plan,
        Err(exit) => return exit,
    };
    let live = Arc::new(Live::default());
    let paths = [folder_of(&plan.file).to_owned()];
    let watched = Watched {
        paths: &paths,
        profile: None,
        out: None,
        quiet: QUIET,
    };
    let started = Watch::start(&watched).and_then(|watch| Ok((watch, serve(args.port, &live)?)));
    let (mut watch, address) = match started {
        Ok(started) => started,
        Err(problem) => {
            console::problem(&problem);
            return problem.exit;
        }
    };
    say(&plan, &live.look(&plan), console);
    console.out(&format!(
        "{}\nfollows {}; Ctrl-C ends it\n",
        address.url(),
        shown(&plan.file)
    ));
    if args.open {
        open(&address.url());
    }
    while let Some(news) = watch.next() {
        console.report(&news.messages);
        if news.everything || !news.paths.is_empty() {
            wait_while_empty(&plan.file);
            say(&plan, &live.look(&plan), console);
        }
    }
    Exit::Done
}

fn only_plan(args: &LiveArgs, console: &mut Console) -> Result<PlanAt, Exit> {
    let mut tally = Tally::default();
    let found = find(std::slice::from_ref(&args.plan), None);
    let plans = plans_of(found, &mut tally, console);
    if let [plan] = plans.as_slice() {
        return Ok(plan.clone());
    }
    if tally.exit == Exit::Done {
        let message = format!(
            "{} holds {} plans; give one",
            shown(&args.plan),
            plans.len()
        );
        let problem = Problem::usage(message).fix("name a plan file");
        tally.report(&Outcome::of_problem(&problem), console);
    }
    Err(tally.exit)
}

/// Many programs empty a file before they write it: what they are about to write is not empty.
fn wait_while_empty(file: &Path) {
    for _ in 0..LOOKS {
        if std::fs::metadata(file).is_ok_and(|about| about.len() > 0) {
            return;
        }
        std::thread::sleep(QUIET);
    }
}

/// A line for each save.
fn say(plan: &PlanAt, now: &Shown, console: &mut Console) {
    let (errors, warnings) = now.counts;
    let found = tally(errors, warnings, 0).unwrap_or_else(|| "sound".to_owned());
    let stays = if now.is_good {
        ""
    } else {
        "; the last good picture stays"
    };
    console.out(&format!("{}: {found}{stays}\n", plan.name));
}

/// Opens an address in the browser that the system names. Where there is none, the address has been printed.
fn open(url: &str) {
    let program = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(windows) {
        "explorer"
    } else {
        "xdg-open"
    };
    let mut command = Command::new(program);
    command
        .arg(url)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    if command.spawn().is_err() {
        let problem = Problem::disk(format!("{program} cannot be started"));
        console::problem(&problem.fix(format!("open {url} yourself")));
    }
}
