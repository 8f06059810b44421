//! One plan: which formats are to be made, and why; the rest is up to date.

use std::collections::BTreeSet;

use super::run::Run;
use super::work::{Work, add_left_out};
use crate::batch::{Deed, Outcome};
use crate::choice::Chosen;
use crate::disk::read_yaml;
use crate::exit::Problem;
use crate::find::PlanAt;
use crate::inputs::Inputs;
use crate::manifest::ExporterRecord;
use crate::output::{Before, why_made};
use crate::plan_defaults::PlanDefaults;
use crate::plans::compile_recording;
use crate::progress::Progress;
use crate::report::tally;
use crate::styled::shown;

/// Exports one plan.
pub fn export_plan(run: &Run, plan: &PlanAt, progress: &Progress) -> Outcome {
    let bytes = match read_yaml(&plan.file) {
        Ok(bytes) => bytes,
        Err(reason) => {
            let message = format!("{} cannot be read: {reason}", shown(&plan.file));
            return Outcome::of_problem(&Problem::disk(message));
        }
    };
    let folder = run.args.out.join(&plan.name);
    let before = match Before::read(&folder) {
        Ok(before) => before,
        Err(problem) => return Outcome::of_problem(&problem),
    };
    let recorded = before.manifest.as_ref().map(|manifest| &manifest.inputs);
    let profile = run.args.choice.profile.as_deref();
    let offcuts = run.args.offcuts.as_deref();
    let defaults = PlanDefaults::read(profile).and_then(|read| read.with_offcuts(offcuts));
    let defaults = match defaults {
        Ok(defaults) => defaults,
        Err(problem) => return Outcome::of_problem(&problem),
    };
    let inputs = Inputs::now(&plan.file, &bytes, &defaults, recorded);
    let mut ahead = Vec::new();
    let mut kept = BTreeSet::new();
    let mut why = None;
    let unsuited = before.unsuited(&inputs);
    let suits = |f: &&Chosen| f.is_asked_for() || unsuited.iter().all(|id| id != f.id());
    for format in run.formats.iter().filter(suits) {
        let coming = run.record(format, &inputs);
        let reason = if !run.args.part.is_empty() {
            Some("parts were asked for".to_owned())
        } else if format.named && before.has_words_of(format.id()) || run.shows_all(&before) {
            // Whoever names a format wants to see what it has against the plan, and programs want everything.
            Some("its findings are to be shown".to_owned())
        } else {
            why_made(&folder, &before, &inputs, &coming)
        };
        match reason {
            Some(reason) => {
                ahead.push(format);
                why.get_or_insert(reason);
            }
            None => {
                kept.insert(format.id().to_owned());
            }
        }
    }
    let Some(why) = why else {
        return unchanged(run, plan, &before);
    };
    let (compiled, inputs) = compile_recording(plan, &bytes, &defaults);
    let work = Work {
        run,
        plan,
        before,
        inputs,
        kept,
        why,
    };
    work.make(&ahead, compiled, progress)
}

/// What there is to say of a plan whose files are as they should be.
fn unchanged(run: &Run, plan: &PlanAt, before: &Before) -> Outcome {
    let mut outcome = Outcome {
        deed: Deed::Unchanged,
        ..Outcome::default()
    };
    let Some(manifest) = &before.manifest else {
        return outcome;
    };
    let unsuited = &manifest.plan.unsuited;
    let chosen = |record: &&ExporterRecord| {
        let mut formats = run.formats.iter();
        let suits = |f: &Chosen| f.is_asked_for() || !unsuited.contains(&record.id);
        formats.any(|f| f.id() == record.id && suits(f))
    };
    outcome.warnings = manifest.plan.warnings;
    for record in manifest.exporters.iter().filter(chosen) {
        outcome.warnings += record.warnings;
        if let Some(reason) = &record.left_out {
            add_left_out(&mut outcome, plan, &record.id, reason);
        }
    }
    if run.only_plan || run.is_dry {
        let found =
            tally(0, outcome.warnings, 0).map_or(String::new(), |found| format!(", {found}"));
        outcome.line = format!("{}: unchanged{found}\n", plan.name);
    }
    outcome
}
