//! `jigless check`: what is wrong with plans, and nothing is written.

use jigless_core::Compiled;
use jigless_core::export::Stamp;

use super::{compile, plans_of, print_faults};
use crate::args::CheckArgs;
use crate::batch::{Outcome, Tally, for_each_plan, threads};
use crate::choice::{Chosen, settle};
use crate::console::{self, Console};
use crate::exit::Exit;
use crate::find::{PlanAt, find};
use crate::make::vet;
use crate::progress::Progress;
use crate::report::{counted, tally};

/// Checks every plan, and what the formats that were named can express of it.
pub fn run(args: &CheckArgs, console: &mut Console) -> Exit {
    let mut exporters = match settle(&args.choice) {
        Ok(exporters) => exporters,
        Err(faults) => return print_faults(faults, console),
    };
    // A plan is not at fault when a format that nobody asked for cannot express it.
    if args.choice.to.is_empty() {
        exporters.clear();
    }
    let pool = match threads(args.run.jobs) {
        Ok(pool) => pool,
        Err(problem) => {
            console::problem(&problem);
            return problem.exit;
        }
    };
    let mut tally = Tally::default();
    let plans = plans_of(find(&args.run.paths, None), &mut tally, console);
    let work = |plan: &PlanAt, _: &Progress| check(plan, &exporters, args.run.quiet);
    for_each_plan(&plans, false, &pool, console, &mut tally, work);
    tally.print(console);
    tally.exit
}

fn check(plan: &PlanAt, exporters: &[Chosen], quiet: bool) -> Outcome {
    let Compiled {
        sources,
        mut findings,
        result,
    } = match compile(plan) {
        Ok(compiled) => compiled,
        Err(problem) => return Outcome::of_problem(&problem),
    };
    let mut parts = 0;
    if let Some((model, workpieces)) = &result {
        let stamp = Stamp::new(crate::TOOL, None);
        let exporters: Vec<&Chosen> = exporters.iter().collect();
        for (_, found) in vet(&exporters, model, workpieces, &stamp) {
            findings.extend(found);
        }
        parts = workpieces.len();
    }
    let mut outcome = Outcome::new(quiet);
    outcome.add_findings(findings, &sources);
    let found = tally(outcome.errors, outcome.warnings);
    let verdict = if outcome.exit == Exit::Done {
        let found = found.map_or(String::new(), |found| format!(", {found}"));
        format!("OK, {}{found}", counted(parts, "part"))
    } else {
        found.unwrap_or_default()
    };
    outcome.line = format!("{}: {verdict}\n", plan.name);
    outcome
}
