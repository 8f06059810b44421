//! What is the same for all plans of a run, and what is counted over them.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Mutex;

use jigless_core::diag::{Severity, nearest};
use jigless_core::export::Stamp;
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;

use super::opening::Opening;
use crate::args::{FindingsForm, MakeArgs};
use crate::batch::Outcome;
use crate::choice::{Chosen, Faults, settle};
use crate::digest::sha256;
use crate::exit::Problem;
use crate::find::PlanAt;
use crate::inputs::Inputs;
use crate::manifest::{ExporterRecord, MadeFrom};
use crate::output::Before;
use crate::page::Page;
use crate::printers;
use crate::report::counted;
use crate::since;
use crate::styled::{Styled, shown};

/// The formats of a run, corrected for the printer that is named.
///
/// # Errors
/// As [`printers::corrections`] and [`settle`].
pub fn formats_of(args: &MakeArgs) -> Result<Vec<Chosen>, Faults> {
    let corrections = printers::corrections(&args.choice, args.printer.as_deref())?;
    let mut sets = corrections;
    sets.extend(since::settings(&args.choice, args.since.as_deref())?);
    settle(&args.choice, &sets)
}

/// What is the same for all plans.
pub struct Run<'a> {
    /// What is made, and where.
    pub(super) args: &'a MakeArgs,
    /// The formats.
    pub(super) formats: &'a [Chosen],
    /// What may be printed.
    pub(super) stamp: Stamp,
    /// Whether there is one plan only, of which all is said.
    pub(super) only_plan: bool,
    /// Whether nothing is written.
    pub(super) is_dry: bool,
    /// Those of the parts that were asked for that some plan has.
    met: Mutex<BTreeSet<String>>,
    /// Of each format that nobody named, how many plans it warns of, and how often.
    counts: Mutex<BTreeMap<&'static str, (usize, usize)>>,
    /// What to open of what was made.
    pub(super) opening: Opening,
}

impl<'a> Run<'a> {
    /// For plans of one run.
    pub fn new(
        args: &'a MakeArgs,
        formats: &'a [Chosen],
        date: Option<i64>,
        only_plan: bool,
        is_dry: bool,
    ) -> Self {
        Self {
            args,
            formats,
            stamp: Stamp::new(crate::TOOL, date),
            only_plan,
            is_dry,
            met: Mutex::new(BTreeSet::new()),
            counts: Mutex::default(),
            opening: Opening::default(),
        }
    }

    /// Whether the plan's own findings are to be reported also where nothing has changed: programs cannot ask again.
    pub(super) fn shows_all(&self, before: &Before) -> bool {
        let warned = before
            .manifest
            .as_ref()
            .is_some_and(|m| m.plan.warnings > 0);
        warned && self.args.run.findings != FindingsForm::Words
    }

    /// The record that a run leaves of a format that has nothing to say.
    pub(super) fn record(&self, format: &Chosen, inputs: &Inputs) -> ExporterRecord {
        let run = format!("{:?} {:?} {}", self.stamp, self.args.part, format.program);
        ExporterRecord {
            id: format.id().to_owned(),
            options: format.options(),
            made_from: MadeFrom {
                build: crate::BUILD.to_owned(),
                inputs: inputs.digest(),
                run: sha256(run.as_bytes()),
            },
            left_out: None,
            warnings: 0,
        }
    }

    /// The parts that were asked for, in the order of the plan.
    pub(super) fn choose(
        &self,
        plan: &PlanAt,
        model: &Plan,
        workpieces: Vec<Workpiece>,
    ) -> Result<Vec<Workpiece>, Problem> {
        let parts = &self.args.part;
        if parts.is_empty() {
            return Ok(workpieces);
        }
        let (has, lacks): (Vec<&String>, Vec<&String>) =
            parts.iter().partition(|part| model.part(part).is_some());
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
        chosen.retain(|workpiece| parts.contains(&workpiece.part.id));
        Ok(chosen)
    }

    /// Counts what a format that nobody named has against a plan of many.
    pub(super) fn count(&self, id: &'static str, warnings: usize) {
        if let (Ok(mut counts), true) = (self.counts.lock(), warnings > 0) {
            let (plans, sum) = counts.entry(id).or_default();
            *plans += 1;
            *sum += warnings;
        }
    }

    /// A line for each format that nobody named and that has warnings.
    pub fn counted_warnings(&self) -> Outcome {
        let mut outcome = Outcome::default();
        for (id, (plans, sum)) in self.counts.lock().iter().flat_map(|counts| counts.iter()) {
            let (warnings, plans) = (counted(*sum, "warning"), counted(*plans, "plan"));
            let message = format!("{id} has {warnings} about {plans}");
            let fix = format!("`--to {id}` shows them; name the formats that you need");
            outcome.add_remark(Severity::Warning, &message, &fix);
        }
        outcome
    }

    /// What to open of what was made, and for which job. `plan` is the name of the only plan, where there is one.
    pub fn what_to_open(&self, plan: Option<&str>) -> Styled {
        let place = match plan {
            Some(plan) => shown(&self.args.out.join(plan)),
            None => format!("the folder of each plan below {}", shown(&self.args.out)),
        };
        let columns = Page::of_stdout().text();
        self.opening.in_words(self.formats, &place, columns)
    }

    /// The parts that were asked for and that no plan has.
    pub fn parts_met_nowhere(&self) -> Outcome {
        let mut outcome = Outcome::default();
        if let Ok(met) = self.met.lock() {
            for part in self.args.part.iter().filter(|part| !met.contains(*part)) {
                outcome.add_problem(&Problem::usage(format!("no plan has a part `{part}`")));
            }
        }
        outcome
    }
}
