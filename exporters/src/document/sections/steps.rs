//! The steps, in three sections: making it, finish, fitting out. Their numbers run through.

use jigless_model::caution::Caution;
use jigless_steps::{Fixing, Phase, WorkStep};

use crate::document::context::Context;
use crate::document::model::{Block, Figure, Section, StepBlock, plain};
use crate::document::{photographs, pictures};
use jigless_words::said;

/// Everything up to the first sanding.
pub(super) fn making(context: &Context) -> Option<Section> {
    let (sanding, _) = bounds(&context.steps);
    let mut blocks = vec![Block::Paragraph(plain(context.words.making_say))];
    blocks.extend(pictures::exploded(context).map(Block::Figure));
    blocks.extend(step_blocks(context, &context.steps[..sanding]));
    Some(Section {
        id: "steps",
        title: context.words.making,
        on_new_page: true,
        blocks,
    })
    .filter(|_| sanding > 0)
}

/// Sanding, oil, varnish and the like.
pub(super) fn finish(context: &Context) -> Option<Section> {
    let (from, to) = bounds(&context.steps);
    let blocks = step_blocks(context, &context.steps[from..to]);
    (!blocks.is_empty()).then_some(Section {
        id: "finish",
        title: context.words.finish,
        on_new_page: false,
        blocks,
    })
}

/// Hardware again, what is loose, and its place.
pub(super) fn fitting_out(context: &Context) -> Option<Section> {
    let (_, from) = bounds(&context.steps);
    let blocks = step_blocks(context, &context.steps[from..]);
    (!blocks.is_empty()).then_some(Section {
        id: "fitting-out",
        title: context.words.fitting_out,
        on_new_page: false,
        blocks,
    })
}

/// Where sanding begins among the steps, and where the finish is done.
fn bounds(steps: &[WorkStep]) -> (usize, usize) {
    let surface = |step: &WorkStep| matches!(step.phase, Phase::Sand | Phase::Finish);
    let from = steps.iter().position(surface).unwrap_or(steps.len());
    let last = steps.iter().rposition(surface);
    (from, last.map_or(steps.len(), |last| last + 1))
}

/// Some steps, with the pictures of those that add pieces.
fn step_blocks(context: &Context, steps: &[WorkStep]) -> Vec<Block> {
    let mut pictures = pictures::steps(context, steps);
    let tell = |step: &WorkStep| {
        let found = pictures
            .iter()
            .position(|(number, _)| *number == step.number);
        let figure = found.map(|index| pictures.swap_remove(index).1);
        Block::Step(Box::new(block(context, step, figure)))
    };
    steps.iter().map(tell).collect()
}

fn block(context: &Context, step: &WorkStep, figure: Option<Figure>) -> StepBlock {
    let pieces = step.pieces.iter().map(|pieces| {
        let mut words = format!("{} × {} {}", pieces.count, pieces.mark, pieces.title);
        if figure.is_some() {
            words.push_str(&weight(context, &pieces.part));
        }
        (words, pieces.part.clone())
    });
    let cautions = step.cautions.iter().filter(|c| **c != Caution::Work);
    StepBlock {
        number: step.number,
        title: step.title.clone(),
        times: match step.times {
            1 => String::new(),
            times => said(context.words.times, &[&times.to_string()]),
        },
        reason: step.reason.clone().unwrap_or_default(),
        pieces: pieces.collect(),
        fixings: step.fixings.iter().map(|f| fixing(context, f)).collect(),
        tools: step.tools.clone(),
        cautions: cautions
            .map(|c| context.language.cautions.of(*c).to_owned())
            .chain(lifted(context, step))
            .collect(),
        acts: step.acts.clone(),
        checks: step.checks.clone(),
        photographs: photographs::of_step(context, &step.name),
        figure,
    }
}

/// What a piece weighs that comes to the others; less than a hundred grams is not told.
fn weight(context: &Context, part: &str) -> String {
    let weight = context.weight(part).filter(|weight| *weight >= 0.1);
    weight.map_or_else(String::new, |weight| {
        format!(" ({} kg)", context.language.decimal(weight, 1))
    })
}

/// Who lifts the whole, where it comes to its place.
fn lifted(context: &Context, step: &WorkStep) -> Vec<String> {
    match step.phase {
        Phase::Place => context.weight_in_words(),
        _ => Vec::new(),
    }
}

/// `4 × screw #8, 32 mm`.
fn fixing(context: &Context, fixing: &Fixing) -> String {
    let [what, _] = context.language.things.hardware(fixing.what);
    let mut words = format!("{} × {what}", fixing.count);
    if let Some(gauge) = &fixing.gauge {
        words.push(' ');
        words.push_str(&context.language.gauge(gauge));
    }
    if let Some(length) = fixing.length {
        words.push_str(", ");
        words.push_str(&context.full(length));
    }
    words
}
