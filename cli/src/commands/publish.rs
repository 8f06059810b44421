//! `jigless publish`: a library as a website.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};

use super::faults;
use crate::args::{FindingsForm, MakeArgs, PublishArgs, RunArgs};
use crate::batch::{Outcome, Tally, for_each_plan, threads};
use crate::console::{self, Console};
use crate::date::effective_date;
use crate::exit::{Exit, Problem};
use crate::export::{Run, export_plan, formats_of};
use crate::find::{PlanAt, check_apart, find};
use crate::plans::plans_of;
use crate::progress::Progress;
use crate::publish::{
    About, FEED, Fresh, INDEX, PLANS, Place, SUMS, feed, files_of, index, make_pages, revisions_of,
};
use crate::report::counted;
use crate::styled::shown;
use crate::write::replace;

/// Makes the site, or a share of what it will hold.
pub fn run(args: &PublishArgs, console: &mut Console) -> Exit {
    match publish(args, console) {
        Ok(exit) => exit,
        Err(problem) => {
            console::problem(&problem);
            problem.exit
        }
    }
}

fn publish(args: &PublishArgs, console: &mut Console) -> Result<Exit, Problem> {
    let place = Place::of(&args.out)?;
    let making = MakeArgs {
        run: RunArgs {
            paths: args.library.clone(),
            jobs: args.jobs,
            quiet: false,
            findings: FindingsForm::Words,
        },
        choice: args.choice.clone(),
        offcuts: None,
        part: Vec::new(),
        printer: None,
        since: None,
        out: place.plans(),
        force: false,
        date: args.date,
    };
    let formats = match formats_of(&making) {
        Ok(formats) => formats,
        Err(found) => return Ok(faults::report(found, console)),
    };
    let date = effective_date(args.date, std::env::var_os("SOURCE_DATE_EPOCH"))?;
    let mut tally = Tally::default();
    let mut found = find(&args.library, Some(&args.out));
    let ids: Vec<&str> = formats.iter().map(|format| format.id()).collect();
    found.problems.extend(check_apart(&found.plans, &ids));
    let faulty = !found.problems.is_empty();
    let plans = plans_of(found, &mut tally, console);
    if faulty {
        tally.print(console);
        return Ok(tally.exit);
    }
    let mut own: Vec<PlanAt> = plans.clone();
    own.retain(|plan| args.shard.is_none_or(|shard| shard.holds(plan)));
    let pool = threads(args.jobs)?;
    let lock = place.take(args.shard)?;
    let run = Run::new(&making, &formats, date, false, false);
    let made = AtomicUsize::new(0);
    let work = |plan: &PlanAt, progress: &Progress| {
        let outcome = one(
            &place,
            &run,
            (plan, args.choice.profile.as_deref()),
            progress,
            &made,
        );
        outcome.unwrap_or_else(|problem| Outcome::of_problem(&problem))
    };
    for_each_plan(&own, false, &pool, console, &mut tally, work);
    if tally.failed + tally.in_part > 0 {
        let message = "the site stays as it was, since not all plans could be made";
        let problem = Problem::new(Exit::Faulty, message);
        let problem =
            problem.fix("mend them and publish again; what is made already is kept for that");
        tally.report(&Outcome::of_problem(&problem), console);
        tally.print(console);
        return Ok(tally.exit);
    }
    tally.report(&run.counted_warnings(), console);
    let anew = made.into_inner();
    if args.shard.is_some() {
        console.out(&format!(
            "{} prepared, {anew} anew\n",
            counted(own.len(), "plan")
        ));
        tally.print(console);
        return Ok(tally.exit);
    }
    let dated = finish(args, &place, &plans, date)?;
    if !dated {
        let message = "no revision has a date, so there is no feed";
        let fix = "name revisions by their day, such as `revision: 2026-03-31`, or give --date";
        let mut outcome = Outcome::default();
        outcome.add_note(message, fix);
        tally.report(&outcome, console);
    }
    place.put(lock)?;
    console.out(&format!(
        "{}, {anew} made anew, in {}\n",
        counted(plans.len(), "plan"),
        shown(&args.out.join("index.html"))
    ));
    tally.print(console);
    Ok(tally.exit)
}

/// The files and pages of one plan and of its earlier revisions.
fn one(
    place: &Place,
    run: &Run,
    (plan, profile): (&PlanAt, Option<&Path>),
    progress: &Progress,
    made: &AtomicUsize,
) -> Result<Outcome, Problem> {
    let plans = place.plans();
    let earlier = revisions_of(plan);
    let mut all = Outcome::default();
    for at in earlier.iter().chain([plan]) {
        place.take_over(&at.name)?;
        let outcome = export_plan(run, at, progress);
        all.exit = all.exit.max(outcome.exit);
        all.errors += outcome.errors;
        all.warnings += outcome.warnings;
        all.deed = outcome.deed;
        all.messages.extend(outcome.messages);
        all.line = String::new();
        if all.exit != Exit::Done {
            return Ok(all);
        }
    }
    let mut fresh = Fresh::Kept;
    for revision in &earlier {
        if make_pages(&plans, revision, &[], Some(plan), profile)? == Fresh::Made {
            fresh = Fresh::Made;
        }
    }
    if make_pages(&plans, plan, &earlier, None, profile)? == Fresh::Made {
        fresh = Fresh::Made;
    }
    if fresh == Fresh::Made {
        made.fetch_add(1, Ordering::Relaxed);
    }
    Ok(all)
}

/// What is of all plans: the index, the feed, and the checksums; nothing else is left in the next site. Whether there is a
/// feed.
fn finish(
    args: &PublishArgs,
    place: &Place,
    plans: &[PlanAt],
    date: Option<i64>,
) -> Result<bool, Problem> {
    let folder = place.plans();
    let read = plans.iter().map(|plan| About::read(&folder, plan));
    let mut about = read.collect::<Result<Vec<About>, Problem>>()?;
    about.sort_by(|a, b| (a.title.to_lowercase(), &a.name).cmp(&(b.title.to_lowercase(), &b.name)));
    let mut sums = String::new();
    for plan in &about {
        // Writing to a String cannot fail.
        let _ = writeln!(
            sums,
            "{}  {PLANS}/{}/{}",
            plan.zip.sha256, plan.name, plan.zip.name
        );
    }
    let feed = feed(&args.title, args.url.as_deref(), &about, date);
    let has_feed = feed.is_some();
    let mut own = vec![(INDEX, index(&args.title, &about, has_feed)), (SUMS, sums)];
    own.extend(feed.map(|feed| (FEED, feed)));
    let mut files: BTreeSet<String> = own.iter().map(|(name, _)| (*name).to_owned()).collect();
    for plan in plans {
        for at in revisions_of(plan).iter().chain([plan]) {
            let of_plan = files_of(&folder, at)?;
            files.extend(of_plan.into_iter().map(|file| format!("{PLANS}/{file}")));
        }
    }
    for (name, text) in &own {
        put(&place.next().join(name), text)?;
    }
    place.keep_only(&files)?;
    Ok(has_feed)
}

fn put(file: &Path, text: &str) -> Result<(), Problem> {
    replace(file, text.as_bytes())
        .map_err(|error| Problem::disk(format!("{} cannot be written: {error}", shown(file))))
}
