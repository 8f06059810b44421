//! The plans of a run: which ones it goes on with, and reading and compiling them.

use std::path::Path;

use jigless_core::Compiled;
use jigless_core::load::{IncludeReader, Tree};
use jigless_core::plan::Plan;
use jigless_core::source::Sources;
use jigless_core::workpiece::Workpiece;

use crate::batch::{Outcome, Tally};
use crate::console::Console;
use crate::disk::{FolderIncludes, read_yaml};
use crate::exit::{Exit, Problem};
use crate::find::{Found, PlanAt, find};
use crate::inputs::{Inputs, Recording};
use crate::plan_defaults::PlanDefaults;
use crate::styled::shown;

/// The plans that a run goes on with. There are none where the command line itself is wrong; what the disk hides is
/// reported and the rest goes on.
pub fn plans_of(found: Found, tally: &mut Tally, console: &mut Console) -> Vec<PlanAt> {
    let mut outcome = Outcome::default();
    for problem in &found.problems {
        outcome.add_problem(problem);
    }
    tally.report(&outcome, console);
    if found.problems.iter().any(|p| p.exit == Exit::Usage) {
        return Vec::new();
    }
    found.plans
}

/// Reads and compiles the one plan that a path means, and reports what is found.
///
/// # Errors
/// How the program ends.
pub fn one_plan(path: &Path, console: &mut Console) -> Result<(Plan, Vec<Workpiece>), Exit> {
    one_plan_with(path, None, console)
}

/// [`one_plan`] with what a profile says for plans.
///
/// # Errors
/// How the program ends.
pub fn one_plan_with(
    path: &Path,
    profile: Option<&Path>,
    console: &mut Console,
) -> Result<(Plan, Vec<Workpiece>), Exit> {
    match one(path, profile, console)? {
        (Some(result), ..) => Ok(result),
        (None, _, exit) => Err(exit),
    }
}

/// The one plan at a path, also where checks refuse it, and how the program ends; reports what is found.
///
/// # Errors
/// How the program ends where there is no plan to look at.
pub fn one_plan_read(path: &Path, console: &mut Console) -> Result<(Plan, Exit), Exit> {
    match one(path, None, console)? {
        (Some((plan, _)), _, exit) | (None, Some(plan), exit) => Ok((plan, exit)),
        (None, None, exit) => Err(exit),
    }
}

/// The plan and its parts where it is sound, the plan where checks alone refuse it, and how the program ends.
type One = (Option<(Plan, Vec<Workpiece>)>, Option<Plan>, Exit);

/// The one plan that a path means.
///
/// # Errors
/// How the program ends where there is none or several.
pub fn the_one(path: &Path, console: &mut Console) -> Result<PlanAt, Exit> {
    let mut tally = Tally::default();
    let mut plans = plans_of(find(&[path.to_owned()], None), &mut tally, console);
    if plans.len() == 1 {
        return Ok(plans.swap_remove(0));
    }
    if tally.exit == Exit::Done {
        let message = format!("{} holds {} plans; give one", shown(path), plans.len());
        let problem = Problem::usage(message).fix("name a plan file");
        tally.report(&Outcome::of_problem(&problem), console);
    }
    tally.print(console);
    Err(tally.exit)
}

fn one(path: &Path, profile: Option<&Path>, console: &mut Console) -> Result<One, Exit> {
    let plan = the_one(path, console)?;
    let mut tally = Tally::default();
    let outcome = match compile(&plan, profile) {
        Ok(Compiled {
            sources,
            findings,
            result,
            refused,
        }) => {
            let mut outcome = Outcome::default();
            outcome.add_findings(findings, &sources);
            tally.report(&outcome, console);
            if result.is_none() {
                tally.print(console);
            }
            return Ok((result, refused, tally.exit));
        }
        Err(problem) => Outcome::of_problem(&problem),
    };
    tally.report(&outcome, console);
    tally.print(console);
    Err(tally.exit)
}

/// Compiles a plan that was read, and says what it was read from.
pub fn compile_recording(
    plan: &PlanAt,
    bytes: &[u8],
    defaults: &PlanDefaults,
) -> (Compiled, Inputs) {
    let includes = Recording::of_plan(&plan.file);
    let compiled = compiled(&plan.file.to_string_lossy(), bytes, &includes, defaults);
    (compiled, includes.inputs(bytes, defaults))
}

/// Reads and compiles one plan.
///
/// # Errors
/// When the plan file cannot be read.
pub fn compile(plan: &PlanAt, profile: Option<&Path>) -> Result<Compiled, Problem> {
    let defaults = PlanDefaults::read(profile)?;
    let bytes = read_yaml(&plan.file).map_err(|reason| {
        Problem::disk(format!("{} cannot be read: {reason}", shown(&plan.file)))
    })?;
    let includes = FolderIncludes::of_plan(&plan.file);
    let name = plan.file.to_string_lossy();
    Ok(compiled(&name, &bytes, &includes, &defaults))
}

/// Compiles a plan with what profiles say for it.
pub fn compiled(
    name: &str,
    bytes: &[u8],
    includes: &dyn IncludeReader,
    defaults: &PlanDefaults,
) -> Compiled {
    let give = |sources: &mut Sources, tree: &mut Tree| defaults.give(sources, tree);
    match jigless_core::compile_changed(name, bytes, includes, give) {
        Ok(compiled) => compiled,
        // A profile that is no YAML has been refused where formats are settled.
        Err(_) => jigless_core::compile(name, bytes, includes),
    }
}
