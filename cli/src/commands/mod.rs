//! One module for each command.

mod check;
mod coupon;
mod diff;
mod expand;
mod explain;
mod export;
mod formats;
mod inspect;
mod migrate;
mod new;
mod paperwork;
mod print_check;
mod schema;
mod schema_exporter;
mod watch;

use jigless_core::Compiled;
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;

use crate::args::{Args, Command, SchemaOf};
use crate::batch::{Outcome, Tally};
use crate::choice::Faults;
use crate::console::Console;
use crate::disk::{FolderIncludes, read_yaml};
use crate::exit::{Exit, Problem};
use crate::find::{Found, PlanAt, find};
use crate::inputs::{Inputs, Recording};

/// Does what the command line asks for.
pub fn run(args: &Args) -> Exit {
    let run = match &args.command {
        Command::Export(args) => Some(&args.make.run),
        Command::Check(args) => Some(&args.run),
        Command::Watch(args) => Some(&args.make.run),
        _ => None,
    };
    let mut console = run.map_or_else(Console::default, |run| {
        Console::new(run.quiet, run.message_format)
    });
    let exit = match &args.command {
        Command::Export(args) => export::run(args, &mut console),
        Command::Watch(args) => watch::run(args, &mut console),
        Command::Check(args) => check::run(args, &mut console),
        Command::Completions(args) => paperwork::completions(args, &mut console),
        Command::Man(args) => paperwork::man(args, &mut console),
        Command::Formats(args) => formats::run(args, &mut console),
        Command::Explain(args) => explain::run(args, &mut console),
        Command::New(args) => new::run(args, &mut console),
        Command::Expand(args) => expand::run(args, &mut console),
        Command::Diff(args) => diff::run(args, &mut console),
        Command::Migrate(args) => migrate::run(args, &mut console),
        Command::Schema(args) => match args.of {
            SchemaOf::Plan => schema::run(&mut console),
            SchemaOf::Exporter => schema_exporter::run(&mut console),
        },
        Command::PrintCheck(args) => print_check::run(args, &mut console),
        Command::Inspect(args) => inspect::run(args, &mut console),
        Command::Coupon(args) => coupon::run(args, &mut console),
    };
    console.finish(exit)
}

/// Prints why the choice of formats cannot be met.
fn print_faults(faults: Faults, console: &mut Console) -> Exit {
    let mut told = Outcome::default();
    for problem in &faults.problems {
        told.add_problem(problem);
    }
    for (sources, findings) in faults.findings {
        told.add_findings(findings, &sources);
    }
    let mut tally = Tally::default();
    tally.tell(&told, console);
    tally.print(console);
    tally.exit
}

/// The plans that a run goes on with. There are none where the command line itself is wrong; what the disk hides is told
/// and the rest goes on.
fn plans_of(found: Found, tally: &mut Tally, console: &mut Console) -> Vec<PlanAt> {
    let mut told = Outcome::default();
    for problem in &found.problems {
        told.add_problem(problem);
    }
    tally.tell(&told, console);
    if found.problems.iter().any(|p| p.exit == Exit::Usage) {
        return Vec::new();
    }
    found.plans
}

/// Reads and compiles the one plan that a path means, and tells what is found; `Err` is how the program ends.
fn one_plan(path: &std::path::Path, console: &mut Console) -> Result<(Plan, Vec<Workpiece>), Exit> {
    let mut tally = Tally::default();
    let plans = plans_of(find(&[path.to_owned()], None), &mut tally, console);
    let [plan] = plans.as_slice() else {
        if tally.exit == Exit::Done {
            let message = format!(
                "{} holds {} plans, and this takes one",
                path.display(),
                plans.len()
            );
            let mut told = Outcome::default();
            told.add_problem(&Problem::usage(message).fix("name a plan file"));
            tally.tell(&told, console);
        }
        tally.print(console);
        return Err(tally.exit);
    };
    let outcome = match compile(plan) {
        Ok(Compiled {
            sources,
            findings,
            result,
        }) => {
            let mut outcome = Outcome::default();
            outcome.add_findings(findings, &sources);
            if let Some(result) = result {
                tally.tell(&outcome, console);
                return Ok(result);
            }
            outcome
        }
        Err(problem) => Outcome::of_problem(&problem),
    };
    tally.tell(&outcome, console);
    tally.print(console);
    Err(tally.exit)
}

/// Compiles a plan that was read, and says what it was read from.
fn compile_recording(plan: &PlanAt, bytes: &[u8]) -> (Compiled, Inputs) {
    let includes = Recording::of_plan(&plan.file);
    let compiled = jigless_core::compile(&plan.file.to_string_lossy(), bytes, &includes);
    (compiled, includes.inputs(bytes))
}

/// Reads and compiles one plan.
fn compile(plan: &PlanAt) -> Result<Compiled, Problem> {
    let shown = plan.file.to_string_lossy();
    let bytes = read_yaml(&plan.file)
        .map_err(|reason| Problem::disk(format!("{shown} cannot be read: {reason}")))?;
    let includes = FolderIncludes::of_plan(&plan.file);
    Ok(jigless_core::compile(&shown, &bytes, &includes))
}

/// Where lines are broken.
const COLUMNS: usize = 100;

/// Adds words, with an indent before each line, broken where a line would grow too long.
fn wrap(text: &mut String, indent: &str, words: &str) {
    let mut column = 0;
    for word in words.split_whitespace() {
        let length = word.chars().count();
        if column == 0 {
            text.push_str(indent);
            column = indent.len();
        } else if column + 1 + length > COLUMNS {
            text.push('\n');
            text.push_str(indent);
            column = indent.len();
        } else {
            text.push(' ');
            column += 1;
        }
        text.push_str(word);
        column += length;
    }
    text.push('\n');
}
