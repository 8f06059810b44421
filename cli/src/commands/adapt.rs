//! `jigless adapt`: a plan made for the reader's own sheets and sizes, exported, with what had to give.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use jigless_core::Compiled;
use jigless_core::adapt::{AdaptFault, Adapted, adapt};
use jigless_core::compare::{ChangeKind, Comparison, compare};
use jigless_core::diag::{Finding, Findings, Severity};
use jigless_core::load::IncludeReader;
use jigless_exporters::{EXPORTERS, SawOptions};

use super::{export, faults};
use crate::args::{AdaptArgs, ChoiceArgs, ExportArgs, FindingsForm, MakeArgs, RunArgs, SetArg};
use crate::batch::{Outcome, Tally};
use crate::choice::{Faults, settle};
use crate::console::Console;
use crate::disk::{FolderIncludes, read_yaml};
use crate::exit::{Exit, Problem};
use crate::find::PlanAt;
use crate::keep::write_all;
use crate::plan_defaults::PlanDefaults;
use crate::plans::{compiled, the_one};
use crate::printers;
use crate::report::counted;
use crate::styled::shown;

/// What had to give, in words, beside the adapted plan.
const REPORT: &str = "adapted.txt";

/// Adapts the plan. Where it then has errors nothing is written, unless that is asked for.
pub fn run(args: &AdaptArgs, console: &mut Console) -> Exit {
    let plan = match the_one(&args.plan, console) {
        Ok(plan) => plan,
        Err(exit) => return exit,
    };
    match adapt_plan(args, &plan, console) {
        Ok(exit) => exit,
        Err(outcome) => {
            let mut tally = Tally::default();
            tally.report(&outcome, console);
            tally.print(console);
            tally.exit
        }
    }
}

fn adapt_plan(args: &AdaptArgs, plan: &PlanAt, console: &mut Console) -> Result<Exit, Outcome> {
    let name = plan.file.to_string_lossy();
    let bytes = read_yaml(&plan.file)
        .map_err(|reason| Problem::disk(format!("{name} cannot be read: {reason}")))?;
    let includes = FolderIncludes::of_plan(&plan.file);
    let adapted = adapt(&name, &bytes, &includes, &args.set).map_err(refused)?;
    let own = own_file(&args.out, plan);
    let files = Files {
        adapted: &adapted,
        beside: &includes,
        photographs: RefCell::default(),
    };
    let defaults = PlanDefaults::read(args.profile.as_deref())?;
    let after = compiled(&own.to_string_lossy(), files.main(), &files, &defaults);
    let before = compiled(&name, &bytes, &includes, &defaults);
    let said = said(args, plan, &adapted, &before, &after);

    let mut tally = Tally::default();
    let mut outcome = Outcome::default();
    let has_errors = after.result.is_none();
    if has_errors {
        outcome.add_findings(after.findings, &after.sources);
        if args.anyway {
            outcome.add_note(
                "the adapted plan has errors: it is written, and no files are made of it",
                "mend it, then export it",
            );
        } else {
            outcome.add_note(
                "the adapted plan has errors: nothing is written",
                "set other values, or add `--anyway` to have the plan and mend it by hand",
            );
        }
        tally.report(&outcome, console);
        console.out(&said);
        if !args.anyway {
            tally.print(console);
            return Ok(tally.exit);
        }
    } else {
        console.out(&said);
    }
    write_all(&files.written(&own, &said), args.force)?;
    console.out(&format!("written: {}\n", shown(&own)));
    if has_errors {
        tally.print(console);
        return Ok(tally.exit);
    }
    Ok(export_adapted(args, &own, console))
}

/// The adapted plan among the files that are written; its name is that of the folder of its own files.
fn own_file(out: &Path, plan: &PlanAt) -> PathBuf {
    let name = plan.name.rsplit('/').next().unwrap_or(&plan.name);
    out.join(format!("{name}.yaml"))
}

/// The texts of the adapted plan, and the photographs that it takes over.
struct Files<'a> {
    adapted: &'a Adapted,
    /// The folder of the plan as it was.
    beside: &'a FolderIncludes,
    photographs: RefCell<BTreeMap<String, Vec<u8>>>,
}

impl Files<'_> {
    fn main(&self) -> &[u8] {
        let main = self
            .adapted
            .files
            .iter()
            .find(|(include, _)| include.is_none());
        main.map_or(&[], |(_, bytes)| bytes)
    }

    /// All files to write: the plan, what it includes, its photographs, and the report.
    fn written(&self, own: &Path, said: &str) -> Vec<(PathBuf, Vec<u8>)> {
        let folder = own.parent().unwrap_or(Path::new(""));
        let texts = self.adapted.files.iter().map(|(include, bytes)| {
            let path = include
                .as_ref()
                .map_or_else(|| own.to_owned(), |path| folder.join(path));
            (path, bytes.clone())
        });
        let report = (folder.join(REPORT), said.as_bytes().to_vec());
        let photographs = self.photographs.borrow();
        let photographs = photographs
            .iter()
            .map(|(path, bytes)| (folder.join(path), bytes.clone()));
        texts.chain(photographs).chain([report]).collect()
    }
}

impl IncludeReader for Files<'_> {
    fn read(&self, path: &str) -> Result<Vec<u8>, String> {
        let found = self
            .adapted
            .files
            .iter()
            .find(|(include, _)| include.as_deref() == Some(path));
        if let Some((_, bytes)) = found {
            return Ok(bytes.clone());
        }
        // What is included was adapted, all of it: this is a photograph.
        let bytes = self.beside.read(path)?;
        let mut photographs = self.photographs.borrow_mut();
        photographs.insert(path.to_owned(), bytes.clone());
        Ok(bytes)
    }
}

fn refused(fault: AdaptFault) -> Outcome {
    match fault {
        AdaptFault::Unreadable(sources, findings) => {
            let mut outcome = Outcome::default();
            outcome.add_findings(findings, &sources);
            outcome
        }
        AdaptFault::Setting { path, message, fix } => {
            let problem = Problem::usage(format!("--set {path}: {message}")).fix(fix);
            Outcome::of_problem(&problem)
        }
    }
}

/// What was set, what had to give, and what is still in question.
fn said(
    args: &AdaptArgs,
    plan: &PlanAt,
    adapted: &Adapted,
    before: &Compiled,
    after: &Compiled,
) -> String {
    let mut text = format!("{} adapted\n", plan.name);
    for (set, asked) in adapted.set.iter().zip(&args.set) {
        let instead = if set.path == asked.path {
            String::new()
        } else {
            format!("   ({} names it)", asked.path)
        };
        // Writing to a String cannot fail.
        let _ = writeln!(text, "  {}: {} to {}{instead}", set.path, set.was, set.now);
    }
    match (&before.result, &after.result) {
        (Some(old), Some(new)) => {
            let saw = SawOptions::default().settings();
            text.push_str(&gave(&compare((&old.0, &old.1), (&new.0, &new.1), &saw)));
        }
        (None, Some(_)) => {
            text.push_str("The plan had errors before, so what had to give is not known.\n");
        }
        (_, None) => {}
    }
    text.push_str(&in_question(&before.findings, &after.findings));
    text
}

/// What changed in the parts, and in what is bought.
fn gave(changed: &Comparison) -> String {
    if changed.is_empty() {
        return "Nothing else had to give.\n".to_owned();
    }
    let mut text = "What had to give:\n".to_owned();
    for part in &changed.parts {
        let lines = sizes(&part.lines);
        let kind = match part.kind {
            ChangeKind::Added => "new, ",
            ChangeKind::Removed => "gone, ",
            ChangeKind::Changed => "",
        };
        let _ = writeln!(text, "  {}: {kind}{lines}", part.part);
    }
    for (what, lines) in [
        ("hardware", &changed.hardware),
        ("sheets and boards", &changed.bought),
        ("cost and weight", &changed.costs),
    ] {
        for line in lines {
            let _ = writeln!(text, "  {what}: {line}");
        }
    }
    text
}

/// What changed in the sizes of a part; its work, which moves along, is only named: `jigless diff` lists it.
fn sizes(lines: &[String]) -> String {
    const SIZES: [&str; 5] = ["width ", "height ", "thickness ", "stock ", "count "];
    let is_size = |line: &&String| SIZES.iter().any(|word| line.starts_with(word));
    let mut said: Vec<&str> = lines.iter().filter(is_size).map(String::as_str).collect();
    if said.len() < lines.len() {
        said.push(if said.is_empty() {
            "its work moves"
        } else {
            "its work moves along"
        });
    }
    said.join("; ")
}

/// Findings of the adapted plan: those that it had before, and those that are new.
fn in_question(before: &Findings, after: &Findings) -> String {
    // Lengths in messages change with the plan; what is found where does not.
    let key = |finding: &Finding| (finding.code.as_str(), finding.span.map(|span| span.file));
    let mut old: BTreeMap<_, usize> = BTreeMap::new();
    for finding in before.iter() {
        *old.entry(key(finding)).or_default() += 1;
    }
    let mut lines = Vec::new();
    for finding in after.iter() {
        let known = old.get_mut(&key(finding)).filter(|count| **count > 0);
        let is_new = known.map(|count| *count -= 1).is_none();
        let severity = match finding.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        };
        let new = if is_new { ", not before" } else { "" };
        lines.push(format!(
            "  {severity}{new}: {} ({})",
            finding.message, finding.code
        ));
        if let Some(fix) = &finding.fix {
            lines.push(format!("    To mend: {fix}"));
        }
    }
    if lines.is_empty() {
        return "Nothing is in question: no findings.\n".to_owned();
    }
    let found = counted(after.iter().count(), "finding");
    format!("Still in question, {found}:\n{}\n", lines.join("\n"))
}

/// The files of the adapted plan, for the reader's paper.
fn export_adapted(args: &AdaptArgs, own: &Path, console: &mut Console) -> Exit {
    let choice = ChoiceArgs {
        to: args.to.clone(),
        set: Vec::new(),
        profile: args.profile.clone(),
    };
    let corrections = printers::corrections(&choice, args.printer.as_deref());
    let settled = corrections.map_err(Faults::from).and_then(|mut sets| {
        sets.extend(paper_settings(args));
        settle(&choice, &sets)
    });
    let formats = match settled {
        Ok(formats) => formats,
        Err(faults) => return faults::report(faults, console),
    };
    let making = ExportArgs {
        make: MakeArgs {
            run: RunArgs {
                paths: vec![own.to_owned()],
                jobs: None,
                quiet: false,
                findings: FindingsForm::Words,
            },
            choice,
            offcuts: None,
            part: Vec::new(),
            printer: args.printer.clone(),
            since: None,
            out: args.out.clone(),
            force: args.force,
            date: None,
        },
        fail_fast: false,
        dry_run: false,
        prune: false,
        shard: None,
    };
    export::run_with(&making, &formats, console)
}

/// The reader's paper, for every format that has a choice of paper.
fn paper_settings(args: &AdaptArgs) -> Vec<SetArg> {
    let Some(paper) = args.paper else {
        return Vec::new();
    };
    let with_paper = EXPORTERS.iter().filter(|exporter| {
        exporter
            .options()
            .iter()
            .any(|option| option.key == "paper")
    });
    with_paper
        .map(|exporter| SetArg {
            format: exporter.id().to_owned(),
            option: "paper".to_owned(),
            value: paper.name().to_owned(),
        })
        .collect()
}
