//! Sanding and finishing: as the plan's `finish:` says, coat by coat; in general words where it says nothing.

use jigless_model::caution::Caution;
use jigless_model::finish::{Finish, PartSide};
use jigless_model::mark::Marks;
use jigless_model::plan::{Part, Plan};

use crate::pieces::{listed, named, pieces};
use crate::step::{Phase, WorkStep};

/// The steps from the bare wood to the last coat.
pub(crate) fn steps(plan: &Plan, marks: &Marks) -> Vec<WorkStep> {
    let entries: Vec<(usize, &Finish)> = plan
        .finish
        .iter()
        .enumerate()
        .filter(|(entry, _)| plan.finished_parts(*entry).next().is_some())
        .collect();
    if entries.is_empty() {
        return vec![sand(), finish()];
    }
    let mut all = vec![sand_by_grits(plan, marks, &entries)];
    for (number, (entry, finish)) in entries
        .iter()
        .filter(|(_, finish)| !finish.is_bare())
        .enumerate()
    {
        all.extend(coats(plan, marks, *entry, finish, number));
    }
    all
}

fn sand() -> WorkStep {
    let mut step = break_edges();
    step.tools
        .push("abrasive of two or three grits, block".to_owned());
    step.acts
        .push("Sand faces along the grain, from coarse to fine, through no veneer.".to_owned());
    clean(&mut step);
    step
}

fn break_edges() -> WorkStep {
    let mut step = WorkStep::new(Phase::Sand, "sand", "Sand");
    step.acts.push("Break all sharp edges.".to_owned());
    step.cautions.push(Caution::Sanding);
    step
}

fn clean(step: &mut WorkStep) {
    step.acts
        .push("Take off marks, pencil lines and glue, and wipe off all dust.".to_owned());
}

fn finish() -> WorkStep {
    let mut step = WorkStep::new(Phase::Finish, "finish", "Finish");
    step.acts.push("Try the finish on a scrap of each sheet. Then finish all faces and edges, also those that do not show.".to_owned());
    step.acts.push(
        "Let each coat dry as its label says, and rub it down lightly before the next.".to_owned(),
    );
    step.cautions.push(Caution::Finish);
    step.reason = Some(REASON.to_owned());
    step
}

const REASON: &str = "a panel that is finished on one side only bends";

/// An act for each grit of each entry; what stays bare is said before a coat comes near it.
fn sand_by_grits(plan: &Plan, marks: &Marks, entries: &[(usize, &Finish)]) -> WorkStep {
    let mut step = break_edges();
    let mut grits: Vec<u32> = Vec::new();
    for (entry, finish) in entries {
        let what = sides_in_words(plan, marks, *entry, finish);
        for (number, grit) in finish.grits.iter().enumerate() {
            if !grits.contains(&grit.value) {
                grits.push(grit.value);
            }
            let then = if number == 0 { "Sand" } else { "Then" };
            let way = if number == 0 {
                ", along the grain and through no veneer"
            } else {
                ""
            };
            step.acts
                .push(format!("{then} {what} with grit {}{way}.", grit.value));
        }
    }
    if grits.is_empty() {
        step.tools
            .push("abrasive of two or three grits, block".to_owned());
        step.acts
            .push("Sand faces along the grain, from coarse to fine, through no veneer.".to_owned());
    } else {
        grits.sort_unstable();
        let grits: Vec<String> = grits.iter().map(u32::to_string).collect();
        step.tools
            .push(format!("abrasive of grit {}, block", listed(&grits)));
    }
    clean(&mut step);
    for (entry, finish) in entries.iter().filter(|(_, finish)| finish.is_bare()) {
        let what = sides_in_words(plan, marks, *entry, finish);
        step.acts.push(format!("Mask what stays bare: {what}."));
    }
    step
}

/// A step for each coat, with the sanding between two; one step where the plan does not say how many.
fn coats(
    plan: &Plan,
    marks: &Marks,
    entry: usize,
    finish: &Finish,
    number: usize,
) -> Vec<WorkStep> {
    // The first of several keeps the plain name, so that it stays when others come in.
    let mut name = format!("finish-{}", finish.kind.name());
    let before = plan.finish[..entry]
        .iter()
        .filter(|other| other.kind == finish.kind)
        .count();
    if before > 0 {
        name = format!("{name}-{}", before + 1);
    }
    let what = sides_in_words(plan, marks, entry, finish);
    let step = |name: String, title: String| {
        let mut step = WorkStep::new(Phase::Finish, name, title);
        step.pieces = plan
            .finished_parts(entry)
            .map(|part| pieces(part, marks, part.count))
            .collect();
        step.cautions.push(Caution::Finish);
        step
    };
    let all = finish.coats.unwrap_or(1);
    let mut steps = Vec::new();
    for coat in 1..=all {
        if let (Some(grit), true) = (finish.between, coat > 1) {
            let title = format!(
                "{}: sand between coats {} and {coat}",
                finish.title,
                coat - 1
            );
            let mut between = step(format!("{name}-between-{}", coat - 1), title);
            between
                .tools
                .push(format!("abrasive of grit {}", grit.value));
            between.acts.push(format!(
                "When the coat is dry, rub {what} down lightly with grit {}, and wipe off all dust.",
                grit.value
            ));
            between.cautions.insert(0, Caution::Sanding);
            steps.push(between);
        }
        let (own, title) = match finish.coats {
            Some(1) | None => (name.clone(), format!("Finish: {}", finish.title)),
            Some(_) => (
                format!("{name}-{coat}"),
                format!("{}: coat {coat} of {all}", finish.title),
            ),
        };
        let mut wet = step(own, title);
        if coat == 1 {
            wet.acts
                .push("Try it on a scrap of each sheet first.".to_owned());
            if number == 0 {
                wet.reason = Some(REASON.to_owned());
            }
        }
        let label = "thin, as its label says, and let it dry as long as that says";
        wet.acts.push(format!("Put it on {what}: {label}."));
        if finish.coats.is_none() {
            wet.acts
                .push("Rub each coat down lightly before the next.".to_owned());
        }
        wet.acts
            .push("Spread out all rags flat to dry, outside, before you leave.".to_owned());
        steps.push(wet);
    }
    steps
}

/// `all parts`, or the parts of an entry, each with the sides where not all of it gets it.
fn sides_in_words(plan: &Plan, marks: &Marks, entry: usize, finish: &Finish) -> String {
    let all_sides = |part: &Part| -> Vec<PartSide> {
        let sides = PartSide::ALL.into_iter();
        sides
            .filter(|side| plan.finish_of(&part.id, *side) == Some(entry))
            .collect()
    };
    let parts: Vec<(&Part, Vec<PartSide>)> = plan
        .finished_parts(entry)
        .map(|part| (&**part, all_sides(part)))
        .collect();
    let whole = parts
        .iter()
        .all(|(_, sides)| sides.len() == PartSide::ALL.len());
    if whole && parts.len() == plan.parts.len() {
        return "all parts".to_owned();
    }
    if finish.parts.is_empty()
        && parts.len() == plan.parts.len()
        && parts.iter().all(|(_, sides)| *sides == parts[0].1)
    {
        return format!("of all parts the {}", in_words(&parts[0].1));
    }
    let each: Vec<String> = parts
        .iter()
        .map(|(part, sides)| {
            let name = named(part, marks);
            if sides.len() == PartSide::ALL.len() {
                name
            } else {
                format!("{name} ({})", in_words(sides))
            }
        })
        .collect();
    listed(&each)
}

/// `front and back`, `front, left edge and top edge`.
fn in_words(sides: &[PartSide]) -> String {
    let words: Vec<String> = sides
        .iter()
        .map(|side| match side {
            PartSide::Front | PartSide::Back => format!("{} face", side.name()),
            _ => format!("{} edge", side.name()),
        })
        .collect();
    listed(&words)
}
