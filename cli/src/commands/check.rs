//! `jigless check`: what is wrong with plans, and nothing is written.

use std::path::Path;

use jigless_core::Compiled;
use jigless_core::export::Stamp;

use super::faults;
use crate::args::CheckArgs;
use crate::batch::{Outcome, Tally, for_each_plan, threads};
use crate::choice::{Chosen, OptionsFrom, settle};
use crate::console::{self, Console};
use crate::exit::Exit;
use crate::export::{Verdict, named};
use crate::find::{PlanAt, find};
use crate::make::vet;
use crate::plans::{compile, plans_of};
use crate::progress::Progress;
use crate::report::{counted, tally};

/// Checks every plan, and what the formats that were named can express of it.
pub fn run(args: &CheckArgs, console: &mut Console) -> Exit {
    let mut formats = match settle(&args.choice, &[]) {
        Ok(formats) => formats,
        Err(faults) => return faults::report(faults, console),
    };
    // A format that nobody named or set has nothing to say here: its defaults are sound.
    formats.retain(|format| format.named || format.options_from != OptionsFrom::Defaults);
    let pool = match threads(args.run.jobs) {
        Ok(pool) => pool,
        Err(problem) => {
            console::problem(&problem);
            return problem.exit;
        }
    };
    let mut tally = Tally::default();
    let plans = plans_of(find(&args.run.paths, None), &mut tally, console);
    let profile = args.choice.profile.as_deref();
    let work = |plan: &PlanAt, _: &Progress| check(plan, profile, &formats);
    for_each_plan(&plans, false, &pool, console, &mut tally, work);
    tally.print(console);
    tally.exit
}

fn check(plan: &PlanAt, profile: Option<&Path>, formats: &[Chosen]) -> Outcome {
    let Compiled {
        sources,
        mut findings,
        result,
        ..
    } = match compile(plan, profile) {
        Ok(compiled) => compiled,
        Err(problem) => return Outcome::of_problem(&problem),
    };
    let mut parts = 0;
    if let Some((model, workpieces)) = &result {
        let stamp = Stamp::new(crate::TOOL, None);
        let made = formats.iter().filter(|format| format.is_made_of(model));
        let asked: Vec<&Chosen> = made.collect();
        for (format, (id, found)) in asked.iter().zip(vet(&asked, model, workpieces, &stamp)) {
            let found = named(id, &found);
            // A plan is not at fault when a format that nobody asked for cannot express it; its options are.
            let counts = match Verdict::of(&found, format.is_asked_for()) {
                Verdict::Takes => format.named,
                Verdict::OptionsRefused | Verdict::PlanRefused => true,
                Verdict::LeftOut(_) => false,
            };
            if counts {
                findings.extend(found);
            }
        }
        parts = workpieces.len();
    }
    let mut outcome = Outcome::default();
    outcome.add_findings(findings, &sources);
    let found = tally(outcome.errors, outcome.warnings, 0);
    let verdict = if outcome.exit == Exit::Done {
        let found = found.map_or(String::new(), |found| format!(", {found}"));
        format!("OK, {}{found}", counted(parts, "part"))
    } else {
        found.unwrap_or_default()
    };
    outcome.line = format!("{}: {verdict}\n", plan.name);
    outcome
}
