//! `jigless export`: the files of plans.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;

use super::faults;
use crate::args::{ExportArgs, MakeArgs};
use crate::batch::{Outcome, Tally, for_each_plan, threads};
use crate::choice::Chosen;
use crate::console::{self, Console};
use crate::date::effective_date;
use crate::exit::{Exit, Problem};
use crate::export::{Run, export_plan, formats_of};
use crate::find::{check_apart, find};
use crate::lock::Lock;
use crate::output::orphans;
use crate::plans::plans_of;
use crate::report::counted;
use crate::styled::shown;
use crate::write::Writer;

/// Exports every plan.
pub fn run(args: &ExportArgs, console: &mut Console) -> Exit {
    match formats_of(&args.make) {
        Ok(formats) => run_with(args, &formats, console),
        Err(faults) => faults::report(faults, console),
    }
}

/// What is wrong with a file of offcuts that the run may replace while it is still what lies on the shelf.
fn would_be_replaced(making: &MakeArgs) -> Option<Problem> {
    let offcuts = making.offcuts.as_deref()?;
    let whole = |path: &Path| path.canonicalize().ok();
    let is_within = whole(offcuts)?.starts_with(whole(&making.out)?);
    is_within.then(|| {
        let (file, out) = (shown(offcuts), shown(&making.out));
        let message = format!("{file} lies in {out}, which is written into: it could be replaced");
        Problem::usage(message).fix("move it to your shelf, out of that folder, and name it there")
    })
}

/// Exports every plan in formats that are settled.
pub fn run_with(args: &ExportArgs, exporters: &[Chosen], console: &mut Console) -> Exit {
    let making = &args.make;
    if let Some(problem) = would_be_replaced(making) {
        console::problem(&problem);
        return problem.exit;
    }
    let mut tally = Tally::default();
    let mut found = find(&making.run.paths, Some(&making.out));
    let ids: Vec<&str> = exporters.iter().map(|exporter| exporter.id()).collect();
    found.problems.extend(check_apart(&found.plans, &ids));
    let settled = effective_date(making.date, std::env::var_os("SOURCE_DATE_EPOCH"))
        .and_then(|date| Ok((date, threads(making.run.jobs)?)));
    let (date, pool) = match settled {
        Ok(settled) => settled,
        Err(problem) => {
            console::problem(&problem);
            return problem.exit;
        }
    };
    let searched = found.searched && found.problems.is_empty() && args.shard.is_none();
    let mut plans = plans_of(found, &mut tally, console);
    let names: BTreeSet<String> = plans.iter().map(|plan| plan.name.clone()).collect();
    if let Some(shard) = args.shard {
        plans.retain(|plan| shard.holds(plan));
    }
    let _lock = match (args.dry_run, plans.is_empty()) {
        (false, false) => match Lock::take(&making.out, args.shard) {
            Ok(lock) => Some(lock),
            Err(problem) => {
                console::problem(&problem);
                return problem.exit;
            }
        },
        _ => None,
    };
    let run = Run::new(making, exporters, date, plans.len() == 1, args.dry_run);
    for_each_plan(
        &plans,
        args.fail_fast,
        &pool,
        console,
        &mut tally,
        |plan, progress| export_plan(&run, plan, progress),
    );
    tally.report(&run.counted_warnings(), console);
    if tally.failed == 0 && plans.len() != 1 && args.shard.is_none() {
        tally.report(&run.parts_met_nowhere(), console);
    }
    if searched {
        let found = prune(args, &names, console);
        tally.report(&found, console);
    }
    if plans.len() != 1 && !names.is_empty() {
        console.out(&summary(&tally, args.dry_run));
    }
    tally.print(console);
    let only = plans.first().filter(|_| plans.len() == 1);
    console.out_styled(&run.what_to_open(only.map(|plan| plan.name.as_str())));
    tally.exit
}

/// One line on all plans.
fn summary(tally: &Tally, dry_run: bool) -> String {
    let verb = if dry_run {
        "would be exported"
    } else {
        "exported"
    };
    let mut line = format!("{} {verb}", counted(tally.made, "plan"));
    for (count, what) in [
        (tally.unchanged, "unchanged"),
        (tally.passed_over, "without these parts"),
        (tally.in_part, "in part"),
        (tally.failed, "not"),
        (tally.not_tried, "not tried"),
    ] {
        if count > 0 {
            // Writing to a String cannot fail.
            let _ = write!(line, ", {count} {what}");
        }
    }
    line.push('\n');
    line
}

/// Removes the output of plans that the library no longer has, where that is asked for, and reports it otherwise.
fn prune(args: &ExportArgs, names: &BTreeSet<String>, console: &mut Console) -> Outcome {
    let mut outcome = Outcome::default();
    let names = names.iter().map(String::as_str).collect();
    let orphans = orphans(&args.make.out, &names);
    if args.prune {
        for orphan in &orphans {
            if args.dry_run {
                console.out(&format!("{}: would be removed\n", orphan.name));
            } else {
                match orphan.remove(Writer::default()) {
                    Ok(()) => console.out(&format!("{}: removed\n", orphan.name)),
                    Err(problem) => outcome.add_problem(&problem),
                }
            }
        }
    } else if let Some(first) = orphans.first().filter(|_| !console.is_quiet()) {
        let message = format!(
            "{} holds files of {} that this run did not meet, such as {}",
            shown(&args.make.out),
            counted(orphans.len(), "plan"),
            first.name
        );
        let fix = "`--prune` removes them, if their plans are gone";
        outcome.add_note(&message, fix);
    }
    outcome
}
