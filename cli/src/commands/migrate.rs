//! `jigless migrate`: plans rewritten in place, with their old names replaced.

use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use jigless_core::check::catalogue;
use jigless_core::migrate::migrate;
use jigless_core::rewrite::Rewritten;

use crate::args::MigrateArgs;
use crate::batch::{Outcome, Tally};
use crate::console::Console;
use crate::disk::{FolderIncludes, in_words, read_yaml};
use crate::exit::{Exit, Problem};
use crate::find::{PlanAt, find};
use crate::plans::plans_of;
use crate::styled::shown;
use crate::write::{There, rewrite, what_is};

/// Rewrites the plans, or says what would change.
pub fn run(args: &MigrateArgs, console: &mut Console) -> Exit {
    let mut tally = Tally::default();
    for plan in plans_of(find(&args.plans, None), &mut tally, console) {
        match migrate_plan(&plan, args.dry_run) {
            Ok(said) => console.out(&said),
            Err(outcome) => tally.report(&outcome, console),
        }
    }
    if tally.exit != Exit::Done {
        tally.print(console);
    }
    tally.exit
}

/// What is said of a plan. Where one of its files cannot be rewritten, none is.
fn migrate_plan(plan: &PlanAt, dry_run: bool) -> Result<String, Outcome> {
    let name = plan.file.to_string_lossy();
    let bytes = read_yaml(&plan.file)
        .map_err(|reason| Problem::disk(format!("{name} cannot be read: {reason}")))?;
    let includes = FolderIncludes::of_plan(&plan.file);
    let files =
        migrate(&name, &bytes, &includes, &catalogue()).map_err(|(sources, findings)| {
            let mut outcome = Outcome::default();
            outcome.add_findings(findings, &sources);
            outcome.add_note(
                &format!("{name} is left as it is"),
                "put right what was found in it, then migrate it again",
            );
            outcome
        })?;
    if files.is_empty() {
        return Ok(format!("{name}: no old names\n"));
    }
    let paths: Vec<PathBuf> = files.iter().map(|file| path_of(plan, file)).collect();
    for (path, file) in paths.iter().zip(&files) {
        check_file(plan, path, file)?;
    }
    if dry_run {
        return Ok(files.iter().map(would_change).collect());
    }
    let mut said = String::new();
    for (path, file) in paths.iter().zip(&files) {
        rewrite(path, &file.after).map_err(|error| {
            let message = format!("{} cannot be written: {}", file.name, in_words(&error));
            Problem::disk(message)
                .fix("no file is half written; once that is mended, the same command does the rest")
        })?;
        let names = if file.places == 1 { "name" } else { "names" };
        // Writing to a String cannot fail.
        let _ = writeln!(said, "{}: {} old {names} replaced", file.name, file.places);
    }
    Ok(said)
}

fn path_of(plan: &PlanAt, file: &Rewritten) -> PathBuf {
    match &file.include {
        None => plan.file.clone(),
        Some(path) => folder_of(plan).join(path),
    }
}

fn folder_of(plan: &PlanAt) -> &Path {
    match plan.file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Refuses files that are links or lie behind one, that may not be written, or that changed after they were read.
fn check_file(plan: &PlanAt, path: &Path, file: &Rewritten) -> Result<(), Problem> {
    let failed = |error: &std::io::Error| {
        Problem::disk(format!(
            "{} cannot be looked at: {}",
            file.name,
            in_words(error)
        ))
    };
    let own = path
        .ancestors()
        .take_while(|above| *above != folder_of(plan));
    for above in own {
        if what_is(above).map_err(|error| failed(&error))? == There::Link {
            let message = format!("{}: it is a link, and may lead anywhere", shown(above));
            return Err(Problem::disk(message).fix("migrate the file that it leads to"));
        }
    }
    let about = fs::metadata(path).map_err(|error| failed(&error))?;
    if about.permissions().readonly() {
        let message = format!("{} may only be read", file.name);
        return Err(Problem::disk(message).fix("permit writing it first"));
    }
    if fs::read(path).map_err(|error| failed(&error))? != file.before {
        let message = format!("{} was changed while it was read", file.name);
        return Err(Problem::disk(message).fix("migrate it again"));
    }
    Ok(())
}

/// Every line that would change, as it is and as it would be.
fn would_change(file: &Rewritten) -> String {
    let mut said = String::new();
    let lines = |bytes: &[u8]| -> Vec<String> {
        let text = String::from_utf8_lossy(bytes);
        text.split('\n')
            .map(|line| line.trim_end_matches('\r').to_owned())
            .collect()
    };
    let (before, after) = (lines(&file.before), lines(&file.after));
    for number in &file.lines {
        for (word, lines) in [("is      ", &before), ("would be", &after)] {
            let line = lines.get(number - 1).map_or("", String::as_str);
            let _ = writeln!(said, "{}:{number} {word} {line}", file.name);
        }
    }
    said
}
