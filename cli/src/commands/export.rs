//! `jigless export`: the files of plans.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;
use std::sync::Mutex;

use jigless_core::Compiled;
use jigless_core::diag::nearest;
use jigless_core::export::Stamp;
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;

use super::{compile, plans_of, print_faults};
use crate::args::ExportArgs;
use crate::batch::{Outcome, Tally, for_each_plan, threads};
use crate::choice::{Chosen, settle};
use crate::console::{self, Console};
use crate::date::effective_date;
use crate::exit::{Exit, Problem};
use crate::find::{PlanAt, check_apart, find};
use crate::make::{make, vet};
use crate::manifest::{ExporterRecord, PlanRecord};
use crate::output::Output;
use crate::printers;
use crate::progress::Progress;
use crate::report::{counted, tally};

/// Exports every plan.
pub fn run(args: &ExportArgs, console: &mut Console) -> Exit {
    let choice = match printers::correct(&args.choice, args.printer.as_deref()) {
        Ok(choice) => choice,
        Err(problem) => {
            console::problem(&problem);
            return problem.exit;
        }
    };
    let exporters = match settle(&choice) {
        Ok(exporters) => exporters,
        Err(faults) => return print_faults(faults, console),
    };
    let settled = effective_date(args.date, std::env::var_os("SOURCE_DATE_EPOCH"))
        .and_then(|date| Ok((date, threads(args.run.jobs)?)));
    let (date, pool) = match settled {
        Ok(settled) => settled,
        Err(problem) => {
            console::problem(&problem);
            return problem.exit;
        }
    };
    let mut tally = Tally::default();
    let mut found = find(&args.run.paths, Some(&args.out));
    let ids: Vec<&str> = exporters.iter().map(|exporter| exporter.id()).collect();
    found.problems.extend(check_apart(&found.plans, &ids));
    let plans = plans_of(found, &mut tally, console);
    let export = Export {
        exporters: &exporters,
        stamp: Stamp::new(crate::TOOL, date),
        parts: &args.part,
        only_plan: plans.len() == 1,
        named: !args.choice.to.is_empty(),
        out: &args.out,
        force: args.force,
        met: Mutex::new(BTreeSet::new()),
    };
    for_each_plan(&plans, &pool, console, &mut tally, |plan, progress| {
        export
            .plan(plan, progress)
            .unwrap_or_else(|outcome| outcome)
    });
    if tally.failed == 0 && !export.only_plan {
        tally.tell(&export.parts_met_nowhere(), console);
    }
    if plans.len() > 1 {
        let mut line = format!("{} exported", counted(tally.done, "plan"));
        for (count, what) in [
            (tally.passed_over, "without these parts"),
            (tally.failed, "not"),
        ] {
            if count > 0 {
                // Writing to a String cannot fail.
                let _ = write!(line, ", {count} {what}");
            }
        }
        console.out(&format!("{line}\n"));
    }
    tally.print(console);
    tally.exit
}

/// What is the same for all plans.
struct Export<'a> {
    exporters: &'a [Chosen],
    stamp: Stamp,
    /// The parts that were asked for; all where there are none.
    parts: &'a [String],
    only_plan: bool,
    /// Whether the formats were named. What a format that nobody named has against a plan is only counted.
    named: bool,
    out: &'a Path,
    force: bool,
    /// Those of `parts` that some plan has.
    met: Mutex<BTreeSet<String>>,
}

impl Export<'_> {
    /// Exports one plan. What ends it early is an outcome too.
    fn plan(&self, plan: &PlanAt, progress: &Progress) -> Result<Outcome, Outcome> {
        let Compiled {
            sources,
            mut findings,
            result,
        } = compile(plan).map_err(|problem| Outcome::of_problem(&problem))?;
        let mut outcome = Outcome::default();
        let Some((model, workpieces)) = result else {
            outcome.add_findings(findings, &sources);
            return Err(not_written(plan, outcome));
        };
        let chosen = match self.choose(plan, &model, workpieces) {
            Ok(chosen) => chosen,
            Err(problem) => {
                outcome.add_findings(findings, &sources);
                outcome.add_problem(&problem);
                return Err(outcome);
            }
        };
        let mut refusing = Vec::new();
        for (id, found) in vet(self.exporters, &model, &chosen, &self.stamp) {
            if self.named || found.has_errors() {
                if found.has_errors() {
                    refusing.push(id);
                }
                findings.extend(found);
            } else {
                outcome.add_count(&plan.name, id, &found);
            }
        }
        let stopped = findings.has_errors();
        outcome.add_findings(findings, &sources);
        for id in refusing.iter().filter(|_| !self.named) {
            let message = format!("{} cannot be made of {}", id, plan.name);
            outcome.add_note(
                &message,
                "name the formats that you need, and only those are made: `--to ID`",
            );
        }
        if stopped {
            return Err(not_written(plan, outcome));
        }
        if chosen.is_empty() && !self.parts.is_empty() {
            outcome.passed_over = true;
            return Ok(outcome);
        }
        let written = make(self.exporters, &model, &chosen, &self.stamp, progress)
            .map_err(|error| Problem::new(Exit::Faulty, format!("{}: {error}", plan.name)))
            .and_then(|made| {
                let output = Output::new(
                    self.stamp.tool.clone(),
                    plan_record(plan, &model),
                    self.exporters.iter().map(exporter_record).collect(),
                    made,
                )?;
                output.write(self.out, self.force)?;
                Ok(output.len())
            });
        match written {
            Ok(files) => {
                outcome.line = format!(
                    "{}: {}, {} in {}\n",
                    plan.name,
                    counted(chosen.len(), "part"),
                    counted(files, "file"),
                    self.out.join(&plan.name).display()
                );
                Ok(outcome)
            }
            Err(problem) => {
                outcome.add_problem(&problem);
                Err(outcome)
            }
        }
    }

    /// The parts that were asked for, in the order of the plan.
    fn choose(
        &self,
        plan: &PlanAt,
        model: &Plan,
        workpieces: Vec<Workpiece>,
    ) -> Result<Vec<Workpiece>, Problem> {
        if self.parts.is_empty() {
            return Ok(workpieces);
        }
        let (has, lacks): (Vec<&String>, Vec<&String>) = self
            .parts
            .iter()
            .partition(|part| model.part(part).is_some());
        if let (true, Some(part)) = (self.only_plan, lacks.first()) {
            let ids: Vec<&str> = model.parts.iter().map(|part| part.id.as_str()).collect();
            let fix = match nearest(part, ids.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("its parts are {}", ids.join(", ")),
            };
            let message = format!("{} has no part `{part}`", plan.name);
            return Err(Problem::usage(message).fix(fix));
        }
        if let Ok(mut met) = self.met.lock() {
            met.extend(has.into_iter().cloned());
        }
        let mut chosen = workpieces;
        chosen.retain(|workpiece| self.parts.contains(&workpiece.part.id));
        Ok(chosen)
    }

    /// The parts that were asked for and that no plan has.
    fn parts_met_nowhere(&self) -> Outcome {
        let mut outcome = Outcome::default();
        if let Ok(met) = self.met.lock() {
            for part in self.parts.iter().filter(|part| !met.contains(*part)) {
                outcome.add_problem(&Problem::usage(format!("no plan has a part `{part}`")));
            }
        }
        outcome
    }
}

fn not_written(plan: &PlanAt, mut outcome: Outcome) -> Outcome {
    let found = tally(outcome.errors, outcome.warnings).unwrap_or_default();
    outcome.line = format!("{}: not exported, {found}\n", plan.name);
    outcome
}

fn plan_record(plan: &PlanAt, model: &Plan) -> PlanRecord {
    PlanRecord {
        name: plan.name.clone(),
        title: model.title.clone(),
        digest: model.digest.clone(),
    }
}

fn exporter_record(exporter: &Chosen) -> ExporterRecord {
    ExporterRecord {
        id: exporter.id().to_owned(),
        options: exporter.options(),
    }
}
