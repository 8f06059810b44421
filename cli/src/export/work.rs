//! One plan of which something is to be made.

use std::collections::BTreeSet;

use jigless_core::Compiled;
use jigless_core::diag::{Findings, Severity};
use jigless_core::plan::Plan;
use jigless_core::workpiece::Workpiece;

use super::run::Run;
use super::verdict::{Verdict, named};
use crate::batch::{Deed, Outcome};
use crate::choice::Chosen;
use crate::exit::{Exit, Problem};
use crate::find::PlanAt;
use crate::inputs::Inputs;
use crate::make::{make, vet};
use crate::manifest::{ExporterRecord, PlanRecord};
use crate::output::{About, Before, Changes, MadeFiles, Output};
use crate::progress::Progress;
use crate::report::{counted, tally};
use crate::styled::shown;
use crate::write::Writer;

/// One plan of which something is to be made.
pub(super) struct Work<'a> {
    pub(super) run: &'a Run<'a>,
    pub(super) plan: &'a PlanAt,
    pub(super) before: Before,
    pub(super) inputs: Inputs,
    /// The formats whose files are as they should be.
    pub(super) kept: BTreeSet<String>,
    /// Why something is to be made.
    pub(super) why: String,
}

/// What the formats of a plan said, sorted.
#[derive(Default)]
struct Judged<'a> {
    /// The formats that are made.
    making: Vec<&'a Chosen>,
    /// The records of those, and of the formats that are left out.
    records: Vec<ExporterRecord>,
    /// What those that are made, and those that should have been, have to say.
    findings: Findings,
    /// The formats that are not made although they were to be.
    refused: Vec<&'static str>,
    /// What the formats that are left out have to say.
    left_out: Findings,
}

impl Work<'_> {
    /// Makes the files of these formats.
    pub(super) fn make(
        self,
        ahead: &[&Chosen],
        compiled: Compiled,
        progress: &Progress,
    ) -> Outcome {
        let Self { run, plan, .. } = self;
        let Compiled {
            sources,
            mut findings,
            result,
            ..
        } = compiled;
        let mut outcome = Outcome::default();
        let Some((model, workpieces)) = result else {
            outcome.add_findings(findings, &sources);
            return not_written(plan, outcome);
        };
        let chosen = match run.choose(plan, &model, workpieces) {
            Ok(chosen) => chosen,
            Err(problem) => {
                outcome.add_findings(findings, &sources);
                outcome.add_problem(&problem);
                return outcome;
            }
        };
        if chosen.is_empty() && !run.args.part.is_empty() {
            outcome.deed = Deed::PassedOver;
            return outcome;
        }
        let warnings = findings.count(Severity::Warning);
        let (suited, unsuited) = self.suited(ahead, &model);
        let mut judged = self.judge(&suited, &model, &chosen, &mut outcome);
        findings.extend(judged.findings);
        if judged.making.is_empty() && self.kept.is_empty() && judged.refused.is_empty() {
            // No format takes the plan: then they are not left out, they are what is wrong.
            outcome.messages.clear();
            findings.extend(judged.left_out);
        }
        outcome.add_findings(findings, &sources);
        if judged.making.is_empty() && outcome.exit != Exit::Done {
            return not_written(plan, outcome);
        }
        let mut made: Vec<MadeFiles> = Vec::new();
        for (id, files) in make(&judged.making, &model, &chosen, &run.stamp, progress) {
            match files {
                Ok(files) => made.extend(files),
                Err(reason) => {
                    let message = format!("{}: {id} cannot be made: {reason}", plan.name);
                    outcome.add_problem(&Problem::new(Exit::Faulty, message));
                    judged.records.retain(|record| record.id != id);
                    judged.refused.push(id);
                }
            }
        }
        if made.is_empty() && self.kept.is_empty() && !judged.refused.is_empty() {
            return not_written(plan, outcome);
        }
        let record = PlanRecord {
            name: plan.name.clone(),
            title: model.title.clone(),
            digest: model.digest.clone(),
            warnings,
            unsuited,
        };
        let about = self.about(record, &model, judged.records, &chosen);
        let parts = chosen.len();
        let written =
            Output::new(about, made).and_then(|output| self.write(&output, parts, &judged.refused));
        match written {
            Ok((deed, line)) => {
                outcome.deed = deed;
                outcome.line = line;
            }
            Err(problem) => outcome.add_problem(&problem),
        }
        outcome
    }

    /// The formats that are to be made of a plan: those that were asked for, or that suit it; and the ids of those that do
    /// not suit it.
    fn suited<'f>(&self, ahead: &[&'f Chosen], model: &Plan) -> (Vec<&'f Chosen>, Vec<String>) {
        let unsuited = ahead.iter().filter(|format| !format.suits(model));
        let mut ids: Vec<String> = unsuited.map(|format| format.id().to_owned()).collect();
        // Those that this run did not look at are still known from the one before.
        for id in self.before.unsuited(&self.inputs) {
            if !ids.contains(id) {
                ids.push(id.clone());
            }
        }
        let mut making = ahead.to_vec();
        making.retain(|format| format.is_made_of(model));
        (making, ids)
    }

    /// Asks each format what it has against the plan.
    fn judge<'f>(
        &self,
        ahead: &[&'f Chosen],
        model: &Plan,
        chosen: &[Workpiece],
        outcome: &mut Outcome,
    ) -> Judged<'f> {
        let Self { run, plan, .. } = self;
        let mut judged = Judged {
            records: self.kept_records(),
            ..Judged::default()
        };
        let verdicts = vet(ahead, model, chosen, &run.stamp);
        for (&format, (id, found)) in ahead.iter().zip(verdicts) {
            let found = named(id, &found);
            let mut record = run.record(format, &self.inputs);
            match Verdict::of(&found, format.is_asked_for()) {
                Verdict::Takes => {
                    record.warnings = found.count(Severity::Warning);
                    judged.making.push(format);
                    if format.named {
                        judged.findings.extend(found);
                    } else if run.only_plan {
                        outcome.add_count(&plan.name, id, &found);
                    } else {
                        outcome.warnings += record.warnings;
                        run.count(id, record.warnings);
                    }
                    judged.records.push(record);
                }
                Verdict::OptionsRefused | Verdict::PlanRefused => {
                    judged.findings.extend(found);
                    judged.refused.push(id);
                }
                Verdict::LeftOut(reason) => {
                    add_left_out(outcome, plan, id, &reason);
                    judged.left_out.extend(found);
                    // Files that were made of this very plan are still good: only the options have changed.
                    if !self.is_of_this_plan(&record) {
                        record.left_out = Some(reason);
                        judged.records.push(record);
                    }
                }
            }
        }
        judged
    }

    /// Whether the files of a format, as they are recorded, were made from what the plan is read from now.
    fn is_of_this_plan(&self, record: &ExporterRecord) -> bool {
        let mut records = self.before.manifest.iter().flat_map(|m| &m.exporters);
        records.any(|old| {
            old.id == record.id
                && old.left_out.is_none()
                && old.made_from.inputs == record.made_from.inputs
        })
    }

    fn about(
        &self,
        plan: PlanRecord,
        model: &Plan,
        exporters: Vec<ExporterRecord>,
        chosen: &[Workpiece],
    ) -> About {
        let left_out_parts = model.parts.iter().map(|part| &part.id);
        About {
            tool: self.run.stamp.tool.clone(),
            plan,
            inputs: self.inputs.clone(),
            exporters,
            kept: self.kept.clone(),
            other_parts: left_out_parts
                .filter(|id| chosen.iter().all(|workpiece| workpiece.part.id != **id))
                .cloned()
                .collect(),
        }
    }

    /// Writes the files, or says what would be written.
    fn write(
        self,
        output: &Output,
        parts: usize,
        refused: &[&str],
    ) -> Result<(Deed, String), Problem> {
        let Run { args, is_dry, .. } = self.run;
        let name = &self.plan.name;
        let without = match refused {
            [] => String::new(),
            refused => format!(", not {}", refused.join(", ")),
        };
        let deed = |deed| {
            if refused.is_empty() {
                deed
            } else {
                Deed::InPart
            }
        };
        let changes = Changes::of(output, &args.out, self.before, args.force)?;
        if changes.is_nothing() {
            return Ok((
                deed(Deed::Unchanged),
                format!("{name}: unchanged{without}\n"),
            ));
        }
        if *is_dry {
            let words = changes.in_words();
            let line = format!(
                "{name}: would be exported{without}, since {}\n{words}",
                self.why
            );
            return Ok((deed(Deed::MadeFiles), line));
        }
        changes.apply(Writer::default())?;
        self.run.opening.add(output.paths());
        let removed = match changes.removed() {
            0 => String::new(),
            removed => format!(", {removed} removed"),
        };
        let line = format!(
            "{name}: {}, {} in {}{removed}{without}\n",
            counted(parts, "part"),
            counted(output.len(), "file"),
            shown(&args.out.join(name))
        );
        Ok((deed(Deed::MadeFiles), line))
    }

    /// The records of the formats that are not made again.
    fn kept_records(&self) -> Vec<ExporterRecord> {
        let manifest = self.before.manifest.iter();
        let records = manifest.flat_map(|manifest| &manifest.exporters);
        let kept = records.filter(|record| self.kept.contains(&record.id));
        kept.cloned().collect()
    }
}

/// Notes that a format is left out of a plan.
pub(super) fn add_left_out(outcome: &mut Outcome, plan: &PlanAt, id: &str, reason: &str) {
    let message = format!("{}: {id} is left out: {reason}", plan.name);
    outcome.add_note(&message, &format!("`--to {id}` shows where"));
}

fn not_written(plan: &PlanAt, mut outcome: Outcome) -> Outcome {
    let found = tally(outcome.errors, outcome.warnings, 0).unwrap_or_default();
    outcome.line = format!("{}: not exported, {found}\n", plan.name);
    outcome
}
