//! One module for each command.

mod check;
mod export;
mod formats;
mod new;
mod paperwork;
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
    let mut console = Console::new(match &args.command {
        Command::Export(args) => args.make.run.quiet,
        Command::Check(args) => args.run.quiet,
        Command::Watch(args) => args.make.run.quiet,
        Command::Formats(_)
        | Command::New(_)
        | Command::Schema(_)
        | Command::Completions(_)
        | Command::Man(_) => false,
    });
    let exit = match &args.command {
        Command::Export(args) => export::run(args, &mut console),
        Command::Watch(args) => watch::run(args, &mut console),
        Command::Check(args) => check::run(args, &mut console),
        Command::Completions(args) => paperwork::completions(args, &mut console),
        Command::Man(args) => paperwork::man(args, &mut console),
        Command::Formats(args) => formats::run(args, &mut console),
        Command::New(args) => new::run(args, &mut console),
        Command::Schema(args) => match args.of {
            SchemaOf::Exporter => schema_exporter::run(&mut console),
        },
    };
    console.finish(exit)
}

/// Prints why the choice of formats cannot be met.
fn print_faults(faults: Faults) -> Exit {
    let mut told = Outcome::default();
    for problem in &faults.problems {
        told.add_problem(problem);
    }
    for (sources, findings) in faults.findings {
        told.add_findings(findings, &sources);
    }
    let mut tally = Tally::default();
    tally.tell(&told);
    tally.print();
    tally.exit
}

/// The plans that a run goes on with. There are none where the command line itself is wrong; what the disk hides is told
/// and the rest goes on.
fn plans_of(found: Found, tally: &mut Tally) -> Vec<PlanAt> {
    let mut told = Outcome::default();
    for problem in &found.problems {
        told.add_problem(problem);
    }
    tally.tell(&told);
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
