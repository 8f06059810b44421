//! Sanding and finishing: as the plan's `finish:` says, coat by coat; in general words where it says nothing.

use jigless_model::caution::Caution;
use jigless_model::finish::{Finish, PartSide};
use jigless_model::plan::Part;
use jigless_model::side::{Edge, Face};
use jigless_words::{StepWords, Words, said};

use crate::pieces::Wording;
use crate::step::{Phase, WorkStep};

/// The steps from the bare wood to the last coat.
pub(crate) fn steps(wording: &Wording) -> Vec<WorkStep> {
    let (plan, words) = (wording.plan, wording.steps());
    let entries: Vec<(usize, &Finish)> = plan
        .finish
        .iter()
        .enumerate()
        .filter(|(entry, _)| plan.finished_parts(*entry).next().is_some())
        .collect();
    if entries.is_empty() {
        return vec![sand(words), finish(words)];
    }
    let mut all = vec![sand_by_grits(wording, &entries)];
    for (number, (entry, finish)) in entries
        .iter()
        .filter(|(_, finish)| !finish.is_bare())
        .enumerate()
    {
        all.extend(coats(wording, *entry, finish, number));
    }
    all
}

fn sand(words: &StepWords) -> WorkStep {
    let mut step = break_edges(words);
    step.tools.push(words.two_grits.to_owned());
    step.acts.push(words.sand_faces.to_owned());
    step.acts.push(words.clean.to_owned());
    step
}

fn break_edges(words: &StepWords) -> WorkStep {
    let mut step = WorkStep::new(Phase::Sand, "sand", words.sand);
    step.acts.push(words.break_edges.to_owned());
    step.cautions.push(Caution::Sanding);
    step
}

fn finish(words: &StepWords) -> WorkStep {
    let mut step = WorkStep::new(Phase::Finish, "finish", words.finish);
    step.acts.push(words.try_finish.to_owned());
    step.acts.push(words.let_dry.to_owned());
    step.cautions.push(Caution::Finish);
    step.reason = Some(words.one_side_bends.to_owned());
    step
}

/// An act for each grit of each entry; what stays bare is said before a coat comes near it.
fn sand_by_grits(wording: &Wording, entries: &[(usize, &Finish)]) -> WorkStep {
    let words = wording.steps();
    let mut step = break_edges(words);
    let mut grits: Vec<u32> = Vec::new();
    for (entry, finish) in entries {
        let what = sides_in_words(wording, *entry, finish);
        for (number, grit) in finish.grits.iter().enumerate() {
            if !grits.contains(&grit.value) {
                grits.push(grit.value);
            }
            let template = if number == 0 {
                words.sand_with
            } else {
                words.then_with
            };
            step.acts
                .push(said(template, &[&what, &grit.value.to_string()]));
        }
    }
    if grits.is_empty() {
        step.tools.push(words.two_grits.to_owned());
        step.acts.push(words.sand_faces.to_owned());
    } else {
        grits.sort_unstable();
        let grits: Vec<String> = grits.iter().map(u32::to_string).collect();
        step.tools.push(said(
            words.grits_and_block,
            &[&wording.words().listed(&grits)],
        ));
    }
    step.acts.push(words.clean.to_owned());
    for (entry, finish) in entries.iter().filter(|(_, finish)| finish.is_bare()) {
        let what = sides_in_words(wording, *entry, finish);
        step.acts.push(said(words.mask, &[&what]));
    }
    step
}

/// A step for each coat, with the sanding between two; one step where the plan does not say how many.
fn coats(wording: &Wording, entry: usize, finish: &Finish, number: usize) -> Vec<WorkStep> {
    let (plan, words) = (wording.plan, wording.steps());
    // The first of several keeps the plain name, so that it stays when others come in.
    let mut name = format!("finish-{}", finish.kind.name());
    let before = plan.finish[..entry]
        .iter()
        .filter(|other| other.kind == finish.kind)
        .count();
    if before > 0 {
        name = format!("{name}-{}", before + 1);
    }
    let what = sides_in_words(wording, entry, finish);
    let step = |name: String, title: String| {
        let mut step = WorkStep::new(Phase::Finish, name, title);
        step.pieces = plan
            .finished_parts(entry)
            .map(|part| wording.pieces(part, part.count))
            .collect();
        step.cautions.push(Caution::Finish);
        step
    };
    let all = finish.coats.unwrap_or(1);
    let mut steps = Vec::new();
    for coat in 1..=all {
        if let (Some(grit), true) = (finish.between, coat > 1) {
            let coats = [coat - 1, coat].map(|coat| coat.to_string());
            let title = said(words.sand_between, &[&finish.title, &coats[0], &coats[1]]);
            let mut between = step(format!("{name}-between-{}", coat - 1), title);
            let grit = grit.value.to_string();
            between.tools.push(said(words.abrasive_of, &[&grit]));
            between.acts.push(said(words.rub_down, &[&what, &grit]));
            between.cautions.insert(0, Caution::Sanding);
            steps.push(between);
        }
        let (own, title) = match finish.coats {
            Some(1) | None => (name.clone(), said(words.finish_with, &[&finish.title])),
            Some(_) => (
                format!("{name}-{coat}"),
                said(
                    words.coat_of,
                    &[&finish.title, &coat.to_string(), &all.to_string()],
                ),
            ),
        };
        let mut wet = step(own, title);
        if coat == 1 {
            wet.acts.push(words.try_first.to_owned());
            if number == 0 {
                wet.reason = Some(words.one_side_bends.to_owned());
            }
        }
        wet.acts.push(said(words.put_on, &[&what]));
        if finish.coats.is_none() {
            wet.acts.push(words.rub_each_down.to_owned());
        }
        wet.acts.push(words.spread_rags.to_owned());
        steps.push(wet);
    }
    steps
}

/// `all parts`, or the parts of an entry, each with the sides where not all of it gets it.
fn sides_in_words(wording: &Wording, entry: usize, finish: &Finish) -> String {
    let (plan, words) = (wording.plan, wording.words());
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
        return words.steps.all_parts.to_owned();
    }
    if finish.parts.is_empty()
        && parts.len() == plan.parts.len()
        && parts.iter().all(|(_, sides)| *sides == parts[0].1)
    {
        return said(words.steps.of_all_parts, &[&in_words(&parts[0].1, words)]);
    }
    let each: Vec<String> = parts
        .iter()
        .map(|(part, sides)| {
            let name = wording.named(part);
            if sides.len() == PartSide::ALL.len() {
                name
            } else {
                format!("{name} ({})", in_words(sides, words))
            }
        })
        .collect();
    words.listed(&each)
}

/// `front face and back face`, `front face, left edge and top edge`.
fn in_words(sides: &[PartSide], words: &Words) -> String {
    let named = |side: &PartSide| match side {
        PartSide::Front => words.drawing.face(Face::Front),
        PartSide::Back => words.drawing.face(Face::Back),
        PartSide::Left => words.drawing.edge(Edge::Left),
        PartSide::Right => words.drawing.edge(Edge::Right),
        PartSide::Top => words.drawing.edge(Edge::Top),
        PartSide::Bottom => words.drawing.edge(Edge::Bottom),
    };
    let sides: Vec<String> = sides.iter().map(|side| named(side).to_owned()).collect();
    words.listed(&sides)
}
