//! `jigless export`: the files of plans.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::sync::Mutex;

use jigless_core::Compiled;
use jigless_core::diag::{Findings, Severity, nearest};
use jigless_core::export::Stamp;
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;

use super::{compile_recording, plans_of, print_faults};
use crate::args::{ExportArgs, MakeArgs, MessageFormat};
use crate::batch::{Deed, Outcome, Tally, for_each_plan, threads};
use crate::choice::{Chosen, Faults, settle};
use crate::console::{self, Console};
use crate::date::effective_date;
use crate::disk::read_yaml;
use crate::exit::{Exit, Problem};
use crate::find::{PlanAt, check_apart, find};
use crate::inputs::Inputs;
use crate::lock::Lock;
use crate::make::{make, vet};
use crate::manifest::{ExporterRecord, MadeFrom, PlanRecord, sha256};
use crate::output::{About, Before, Output, orphans, why_made};
use crate::printers;
use crate::progress::Progress;
use crate::report::{counted, tally};

/// Exports every plan.
pub fn run(args: &ExportArgs, console: &mut Console) -> Exit {
    let making = &args.make;
    let exporters = match formats_of(making) {
        Ok(exporters) => exporters,
        Err(faults) => return print_faults(faults, console),
    };
    let mut tally = Tally::default();
    let mut found = find(&making.run.paths, Some(&making.out));
    let ids: Vec<&str> = exporters.iter().map(|exporter| exporter.id()).collect();
    found.problems.extend(check_apart(&found.plans, &ids));
    let settled = effective_date(making.date, std::env::var_os("SOURCE_DATE_EPOCH"))
        .and_then(|date| Ok((date, threads(making.run.jobs)?)));
    let (date, pool) = match settled {
        Ok(settled) => settled,
        Err(problem) => {
            console::problem(&problem);
            return problem.exit;
        }
    };
    let searched = found.searched && found.problems.is_empty() && args.shard.is_none();
    let mut plans = plans_of(found, &mut tally, console);
    let names: BTreeSet<String> = plans.iter().map(|plan| plan.name.clone()).collect();
    if let Some(shard) = args.shard {
        plans.retain(|plan| shard.holds(plan));
    }
    let _lock = match (args.dry_run, plans.is_empty()) {
        (false, false) => match Lock::take(&making.out, args.shard) {
            Ok(lock) => Some(lock),
            Err(problem) => {
                console::problem(&problem);
                return problem.exit;
            }
        },
        _ => None,
    };
    let export = Export::new(making, &exporters, date, plans.len() == 1, args.dry_run);
    for_each_plan(
        &plans,
        args.fail_fast,
        &pool,
        console,
        &mut tally,
        |plan, progress| {
            export
                .plan(plan, progress)
                .unwrap_or_else(|outcome| outcome)
        },
    );
    tally.tell(&export.counted_warnings(), console);
    if tally.failed == 0 && !export.only_plan && args.shard.is_none() {
        tally.tell(&export.parts_met_nowhere(), console);
    }
    if searched {
        let told = prune(args, &names, console);
        tally.tell(&told, console);
    }
    if plans.len() != 1 && !names.is_empty() {
        console.out(&summary(&tally, args.dry_run));
    }
    tally.print(console);
    tally.exit
}

/// The formats of a run, corrected for the printer that is named.
///
/// # Errors
/// As [`printers::correct`] and [`settle`].
pub(super) fn formats_of(args: &MakeArgs) -> Result<Vec<Chosen>, Faults> {
    settle(&printers::correct(&args.choice, args.printer.as_deref())?)
}

/// One line on all plans.
fn summary(tally: &Tally, dry_run: bool) -> String {
    let verb = if dry_run {
        "would be exported"
    } else {
        "exported"
    };
    let mut line = format!("{} {verb}", counted(tally.made, "plan"));
    for (count, what) in [
        (tally.unchanged, "unchanged"),
        (tally.passed_over, "without these parts"),
        (tally.failed, "not"),
        (tally.not_tried, "not tried"),
    ] {
        if count > 0 {
            // Writing to a String cannot fail.
            let _ = write!(line, ", {count} {what}");
        }
    }
    line.push('\n');
    line
}

/// Removes the output of plans that the library no longer has, where that is asked for, and tells of it otherwise.
fn prune(args: &ExportArgs, names: &BTreeSet<String>, console: &mut Console) -> Outcome {
    let mut outcome = Outcome::new(args.make.run.quiet);
    let names = names.iter().map(String::as_str).collect();
    let orphans = orphans(&args.make.out, &names);
    if args.prune {
        for orphan in &orphans {
            if args.dry_run {
                console.out(&format!("{}: would be removed\n", orphan.name));
            } else {
                match orphan.remove() {
                    Ok(()) => console.out(&format!("{}: removed\n", orphan.name)),
                    Err(problem) => outcome.add_problem(&problem),
                }
            }
        }
    } else if let Some(first) = orphans.first().filter(|_| !console.is_quiet()) {
        let message = format!(
            "{} holds files of {} that this run did not meet, such as {}",
            args.make.out.display(),
            counted(orphans.len(), "plan"),
            first.name
        );
        let fix = "`--prune` removes them, if their plans are gone";
        outcome.add_note(&message, fix);
    }
    outcome
}

/// What is the same for all plans.
pub(super) struct Export<'a> {
    args: &'a MakeArgs,
    exporters: &'a [Chosen],
    stamp: Stamp,
    only_plan: bool,
    dry_run: bool,
    /// Whether the formats were named. What a format that nobody named has against a plan is only counted.
    named: bool,
    /// Those of the parts that were asked for that some plan has.
    met: Mutex<BTreeSet<String>>,
    /// Of each format that nobody named, how many plans it warns of, and how often.
    counts: Mutex<BTreeMap<&'static str, (usize, usize)>>,
}

impl<'a> Export<'a> {
    /// For plans of one run.
    pub(super) fn new(
        args: &'a MakeArgs,
        exporters: &'a [Chosen],
        date: Option<i64>,
        only_plan: bool,
        dry_run: bool,
    ) -> Self {
        Self {
            args,
            exporters,
            stamp: Stamp::new(crate::TOOL, date),
            only_plan,
            dry_run,
            named: !args.choice.to.is_empty(),
            met: Mutex::new(BTreeSet::new()),
            counts: Mutex::default(),
        }
    }

    /// Exports one plan. What ends it early is an outcome too.
    pub(super) fn plan(&self, plan: &PlanAt, progress: &Progress) -> Result<Outcome, Outcome> {
        let ended = |problem: Problem| Outcome::of_problem(&problem);
        let bytes = read_yaml(&plan.file).map_err(|reason| {
            let message = format!("{} cannot be read: {reason}", plan.file.display());
            ended(Problem::disk(message))
        })?;
        let folder = self.args.out.join(&plan.name);
        let before = Before::read(&folder).map_err(ended)?;
        let recorded = before.manifest.as_ref().map(|manifest| &manifest.inputs);
        let inputs = Inputs::now(&plan.file, &bytes, recorded);
        let mut ahead = Vec::new();
        let mut kept = BTreeSet::new();
        let mut why = None;
        let unsuited = before.unsuited(&inputs);
        let suits = |e: &&Chosen| self.named || unsuited.iter().all(|id| id != e.id());
        for exporter in self.exporters.iter().filter(suits) {
            let coming = self.record(exporter, &inputs);
            let reason = if !self.args.part.is_empty() {
                Some("parts were asked for".to_owned())
            } else if self.named && before.has_words_of(exporter.id()) || self.shows_all(&before) {
                // Whoever names a format wants to see what it has against the plan, and programs want everything.
                Some("its findings are to be shown".to_owned())
            } else {
                why_made(&folder, &before, &inputs, &coming)
            };
            match reason {
                Some(reason) => {
                    ahead.push(exporter);
                    why.get_or_insert(reason);
                }
                None => {
                    kept.insert(exporter.id().to_owned());
                }
            }
        }
        let Some(why) = why else {
            return Ok(self.unchanged(plan, &before));
        };
        let (compiled, inputs) = compile_recording(plan, &bytes);
        let work = Work {
            export: self,
            plan,
            before,
            inputs,
            kept,
            why,
        };
        work.run(&ahead, compiled, progress)
    }

    /// Whether the plan's own findings are to be told also where nothing has changed: programs cannot ask again.
    fn shows_all(&self, before: &Before) -> bool {
        let warned = before
            .manifest
            .as_ref()
            .is_some_and(|m| m.plan.warnings > 0);
        warned && self.args.run.message_format != MessageFormat::Human
    }

    /// The record that a run leaves of a format that has nothing to say.
    fn record(&self, exporter: &Chosen, inputs: &Inputs) -> ExporterRecord {
        let run = format!("{:?} {:?} {}", self.stamp, self.args.part, exporter.program);
        ExporterRecord {
            id: exporter.id().to_owned(),
            options: exporter.options(),
            made_from: MadeFrom {
                build: crate::BUILD.to_owned(),
                inputs: inputs.digest(),
                run: sha256(run.as_bytes()),
            },
            left_out: None,
            warnings: 0,
        }
    }

    /// What there is to say of a plan whose files are as they should be.
    fn unchanged(&self, plan: &PlanAt, before: &Before) -> Outcome {
        let mut outcome = Outcome::new(self.args.run.quiet);
        outcome.deed = Deed::Unchanged;
        let Some(manifest) = &before.manifest else {
            return outcome;
        };
        let unsuited = &manifest.plan.unsuited;
        let chosen = |record: &&ExporterRecord| {
            let is_left = !self.named && unsuited.contains(&record.id);
            !is_left && self.exporters.iter().any(|e| e.id() == record.id)
        };
        outcome.warnings = manifest.plan.warnings;
        for record in manifest.exporters.iter().filter(chosen) {
            outcome.warnings += record.warnings;
            if let Some(reason) = &record.left_out {
                add_left_out(&mut outcome, plan, &record.id, reason);
            }
        }
        if self.only_plan || self.dry_run {
            let found =
                tally(0, outcome.warnings).map_or(String::new(), |found| format!(", {found}"));
            outcome.line = format!("{}: unchanged{found}\n", plan.name);
        }
        outcome
    }

    /// The parts that were asked for, in the order of the plan.
    fn choose(
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
    fn count(&self, id: &'static str, warnings: usize) {
        if let (Ok(mut counts), true) = (self.counts.lock(), warnings > 0) {
            let (plans, sum) = counts.entry(id).or_default();
            *plans += 1;
            *sum += warnings;
        }
    }

    /// A line for each format that nobody named and that has warnings.
    fn counted_warnings(&self) -> Outcome {
        let mut outcome = Outcome::new(self.args.run.quiet);
        for (id, (plans, sum)) in self.counts.lock().iter().flat_map(|counts| counts.iter()) {
            let (warnings, plans) = (counted(*sum, "warning"), counted(*plans, "plan"));
            let message = format!("{id} has {warnings} about {plans}");
            let fix = format!("`--to {id}` shows them; name the formats that you need");
            outcome.add_remark(Severity::Warning, &message, &fix);
        }
        outcome
    }

    /// The parts that were asked for and that no plan has.
    fn parts_met_nowhere(&self) -> Outcome {
        let mut outcome = Outcome::default();
        if let Ok(met) = self.met.lock() {
            for part in self.args.part.iter().filter(|part| !met.contains(*part)) {
                outcome.add_problem(&Problem::usage(format!("no plan has a part `{part}`")));
            }
        }
        outcome
    }
}

/// One plan of which something is to be made.
struct Work<'a> {
    export: &'a Export<'a>,
    plan: &'a PlanAt,
    before: Before,
    inputs: Inputs,
    /// The formats whose files are as they should be.
    kept: BTreeSet<String>,
    /// Why something is to be made.
    why: String,
}

impl Work<'_> {
    fn run(
        self,
        ahead: &[&Chosen],
        compiled: Compiled,
        progress: &Progress,
    ) -> Result<Outcome, Outcome> {
        let Self { export, plan, .. } = self;
        let Compiled {
            sources,
            mut findings,
            result,
        } = compiled;
        let mut outcome = Outcome::new(export.args.run.quiet);
        let Some((model, workpieces)) = result else {
            outcome.add_findings(findings, &sources);
            return Err(not_written(plan, outcome));
        };
        let chosen = match export.choose(plan, &model, workpieces) {
            Ok(chosen) => chosen,
            Err(problem) => {
                outcome.add_findings(findings, &sources);
                outcome.add_problem(&problem);
                return Err(outcome);
            }
        };
        if chosen.is_empty() && !export.args.part.is_empty() {
            outcome.deed = Deed::PassedOver;
            return Ok(outcome);
        }
        let (ahead, unsuited) = self.suited(ahead, &model);
        let warnings = findings.count(Severity::Warning);
        let mut records = self.kept_records();
        let mut making = Vec::new();
        let mut refusals = Vec::new();
        for (&exporter, (id, found)) in
            ahead
                .iter()
                .zip(vet(&ahead, &model, &chosen, &export.stamp))
        {
            let mut record = export.record(exporter, &self.inputs);
            record.warnings = found.count(Severity::Warning);
            if found.has_errors() && !export.named {
                let reason = refusal(&found);
                add_left_out(&mut outcome, plan, id, &reason);
                record.left_out = Some(reason);
                record.warnings = 0;
                refusals.push(found);
            } else {
                making.push(exporter);
                if export.named {
                    findings.extend(found);
                } else if export.only_plan {
                    outcome.add_count(&plan.name, id, &found);
                } else {
                    outcome.warnings += record.warnings;
                    export.count(id, record.warnings);
                }
            }
            records.push(record);
        }
        if !records.is_empty() && records.iter().all(|record| record.left_out.is_some()) {
            outcome.report.clear();
            outcome.messages.clear();
            for found in refusals {
                findings.extend(found);
            }
        }
        let stopped = findings.has_errors();
        outcome.add_findings(findings, &sources);
        if stopped {
            return Err(not_written(plan, outcome));
        }
        let left_out_parts = model.parts.iter().map(|part| &part.id);
        let about = About {
            tool: export.stamp.tool.clone(),
            plan: PlanRecord {
                name: plan.name.clone(),
                title: model.title.clone(),
                digest: model.digest.clone(),
                warnings,
                unsuited,
            },
            inputs: self.inputs.clone(),
            exporters: records,
            kept: self.kept.clone(),
            other_parts: left_out_parts
                .filter(|id| chosen.iter().all(|workpiece| workpiece.part.id != **id))
                .cloned()
                .collect(),
        };
        let written = make(&making, &model, &chosen, &export.stamp, progress)
            .map_err(|error| Problem::new(Exit::Faulty, format!("{}: {error}", plan.name)))
            .and_then(|made| self.write(&Output::new(about, made)?, chosen.len()));
        match written {
            Ok((deed, line)) => {
                outcome.deed = deed;
                outcome.line = line;
                Ok(outcome)
            }
            Err(problem) => {
                outcome.add_problem(&problem);
                Err(outcome)
            }
        }
    }

    /// The formats that are to be made of a plan: those that are named, or that suit it; and the ids of those that do not
    /// suit it.
    fn suited<'b>(&self, ahead: &[&'b Chosen], model: &Plan) -> (Vec<&'b Chosen>, Vec<String>) {
        let (suited, unsuited): (Vec<&Chosen>, Vec<&Chosen>) =
            ahead.iter().partition(|exporter| exporter.suits(model));
        let mut ids: Vec<String> = unsuited.iter().map(|e| e.id().to_owned()).collect();
        // Those that this run did not look at are still known from the one before.
        for id in self.before.unsuited(&self.inputs) {
            if !ids.contains(id) {
                ids.push(id.clone());
            }
        }
        if self.export.named {
            (ahead.to_vec(), ids)
        } else {
            (suited, ids)
        }
    }

    /// Writes the files, or says what would be written.
    fn write(self, output: &Output, parts: usize) -> Result<(Deed, String), Problem> {
        let Export { args, dry_run, .. } = self.export;
        let name = &self.plan.name;
        let changes = output.changes(&args.out, self.before, args.force)?;
        if changes.is_nothing() {
            return Ok((Deed::Unchanged, format!("{name}: unchanged\n")));
        }
        if *dry_run {
            let words = changes.in_words();
            let line = format!("{name}: would be exported, since {}\n{words}", self.why);
            return Ok((Deed::Made, line));
        }
        changes.apply()?;
        let removed = match changes.removed() {
            0 => String::new(),
            removed => format!(", {removed} removed"),
        };
        let line = format!(
            "{name}: {}, {} in {}{removed}\n",
            counted(parts, "part"),
            counted(output.len(), "file"),
            args.out.join(name).display()
        );
        Ok((Deed::Made, line))
    }

    /// The records of the formats that are not made again.
    fn kept_records(&self) -> Vec<ExporterRecord> {
        let manifest = self.before.manifest.iter();
        let records = manifest.flat_map(|manifest| &manifest.exporters);
        let kept = records.filter(|record| self.kept.contains(&record.id));
        kept.cloned().collect()
    }
}

/// Why a format does not take a plan, in a line.
fn refusal(findings: &Findings) -> String {
    let errors = findings.count(Severity::Error);
    let first = findings
        .iter()
        .find(|finding| finding.severity == Severity::Error);
    let mut reason = first.map_or(String::new(), |finding| finding.message.clone());
    if errors > 1 {
        // Writing to a String cannot fail.
        let _ = write!(reason, ", and {} more", errors - 1);
    }
    reason
}

/// Tells that a format is left out of a plan.
fn add_left_out(outcome: &mut Outcome, plan: &PlanAt, id: &str, reason: &str) {
    let message = format!("{}: {id} is left out: {reason}", plan.name);
    outcome.add_note(&message, &format!("`--to {id}` shows where"));
}

fn not_written(plan: &PlanAt, mut outcome: Outcome) -> Outcome {
    let found = tally(outcome.errors, outcome.warnings).unwrap_or_default();
    outcome.line = format!("{}: not exported, {found}\n", plan.name);
    outcome
}
