//! One module for each command.

mod check;
mod coupon;
mod explain;
mod export;
mod formats;
mod inspect;
mod new;
mod paperwork;
mod print_check;
mod schema;
mod schema_exporter;
mod watch;

use jigless_core::Compiled;

use crate::args::{Args, Command, SchemaOf};
use crate::batch::{Outcome, Tally};
use crate::choice::Faults;
use crate::console::Console;
use crate::disk::{FolderIncludes, read_text};
use crate::exit::{Exit, Problem};
use crate::find::{Found, PlanAt};
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

/// Compiles a plan that was read, and says what it was read from.
fn compile_recording(plan: &PlanAt, bytes: &[u8]) -> (Compiled, Inputs) {
    let includes = Recording::of_plan(&plan.file);
    let compiled = jigless_core::compile(&plan.file.to_string_lossy(), bytes, &includes);
    (compiled, includes.inputs(bytes))
}

/// Reads and compiles one plan.
fn compile(plan: &PlanAt) -> Result<Compiled, Problem> {
    let shown = plan.file.to_string_lossy();
    let bytes = read_text(&plan.file)
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
