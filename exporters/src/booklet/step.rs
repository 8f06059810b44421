//! A step: its picture beside what it takes, then what is done, a box to tick each.

use jigless_model::geom::Point;

use super::setter::Setter;
use super::sheet::{BODY, HEADING, READING, SMALL, WIDTH};
use super::slab::{Slab, rule, tick, unread};
use super::typeset::Run;
use crate::document::StepBlock;
use crate::drawing::{BookFace, Ink};
use crate::pdf::book_page::{Node, Target};
use jigless_words::said;

/// Width of the picture, in millimetres.
const PICTURE: f64 = 108.0;
/// Highest picture, in millimetres.
const HIGHEST: f64 = 110.0;
/// Between a picture and what is beside it, in millimetres.
const GAP: f64 = 5.0;
/// The drawings of so many pieces are named by their pages.
const FEW: usize = 3;
/// Where words beside boxes to tick begin, in millimetres.
const INDENT: f64 = 6.0;

/// A step as one slab; as several where it is higher than a page.
pub(super) fn step(setter: &Setter, place: &[Node], step: &StepBlock) -> Vec<Slab> {
    let mut slabs = vec![head(setter, place, step)];
    let (beside, under) = match &step.figure {
        Some(figure) => {
            let picture = setter.figure(place, figure, (PICTURE, HIGHEST));
            let takes = takes(setter, place, step, WIDTH - PICTURE - GAP);
            let mut both = picture;
            let moved = Slab::stacked(takes).indented(PICTURE + GAP);
            both.height = both.height.max(moved.height);
            both.inks.extend(moved.inks);
            both.above = 2.0;
            (vec![both], Vec::new())
        }
        None => (Vec::new(), takes(setter, place, step, READING)),
    };
    slabs.extend(beside);
    slabs.extend(under);
    if !step.cautions.is_empty() {
        let mut slab = setter.caution(place, &step.cautions, SMALL);
        slab.above = 2.5;
        slabs.push(slab);
    }
    let list = setter.numbers.inside(place, "L");
    for act in &step.acts {
        slabs.push(act_line(setter, &list, act, BookFace::Regular));
    }
    for check in &step.checks {
        let words = format!("{}: {check}", setter.document.words.document.check);
        slabs.push(act_line(setter, &list, &words, BookFace::Oblique));
    }
    let acts = slabs.len();
    for photograph in &step.photographs {
        let mut slab = setter.figure(place, photograph, (WIDTH, HIGHEST));
        slab.above = 3.0;
        slabs.push(slab);
    }
    let height: f64 = slabs.iter().map(|slab| slab.above + slab.height).sum();
    if height <= setter.height {
        return vec![Slab {
            above: 9.0,
            ..Slab::stacked(slabs)
        }];
    }
    // Its head, picture and first act stay together.
    let first = acts - step.acts.len() - step.checks.len();
    for slab in &mut slabs[..first] {
        slab.with_next = true;
    }
    slabs
}

fn head(setter: &Setter, place: &[Node], step: &StepBlock) -> Slab {
    const NUMBER: f64 = 11.0;
    let title = setter.numbers.inside(place, "H3");
    let number = step.number.to_string();
    let mut words = step.title.clone();
    if !step.times.is_empty() {
        words = format!("{words} ({})", step.times);
    }
    let mut head = setter.words(&title, &number, BookFace::Bold, HEADING, NUMBER);
    let title = setter
        .words(&title, &words, BookFace::Bold, HEADING, WIDTH - NUMBER)
        .indented(NUMBER);
    head.height = head.height.max(title.height);
    head.inks.extend(title.inks);
    let over = Slab {
        height: 1.0,
        inks: vec![unread(vec![rule(
            Point::default(),
            WIDTH,
            0.35,
            Ink::BLACK,
        )])],
        ..Slab::default()
    };
    let mut all = vec![over, head];
    if !step.reason.is_empty() {
        let reason = setter.numbers.inside(place, "P");
        let words = format!(
            "{}: {}.",
            setter.document.words.document.why_now, step.reason
        );
        let mut slab = setter.words(&reason, &words, BookFace::Oblique, BODY, READING);
        slab.above = 0.6;
        all.push(slab);
    }
    Slab {
        above: 9.0,
        anchors: vec![step.anchor()],
        bookmark: Some((format!("{}. {}", step.number, step.title), true)),
        ..Slab::stacked(all)
    }
}

/// Pieces, fixings and tools.
fn takes(setter: &Setter, place: &[Node], step: &StepBlock, width: f64) -> Vec<Slab> {
    let words = &setter.document.words.document;
    let regular = |words: &str| Run::new(words, BookFace::Regular);
    let pieces: Vec<Run> = step
        .pieces
        .iter()
        .map(|(words, part)| regular(words).to(Target::Anchor(format!("part-{part}"))))
        .collect();
    let fixings: Vec<Run> = step.fixings.iter().map(|words| regular(words)).collect();
    let tools: Vec<Run> = step.tools.iter().map(|words| regular(words)).collect();
    let mut slabs = Vec::new();
    let narrow = width < READING;
    for (name, runs) in [
        (words.pieces, pieces),
        (words.fixings, fixings),
        (words.tools, tools),
        (words.drawing, drawings(setter, step)),
    ] {
        if runs.is_empty() {
            continue;
        }
        let paragraph = setter.numbers.inside(place, "P");
        let label = Run::new(name, BookFace::Bold);
        if narrow {
            let mut slab = setter.set(&paragraph, &[label], BODY, width);
            slab.above = 2.0;
            slabs.push(slab);
            for run in runs {
                let line = setter.numbers.inside(place, "P");
                slabs.push(setter.set(&line, &[run], BODY, width));
            }
        } else {
            let mut all = vec![label, Run::new(":  ", BookFace::Bold)];
            for (index, run) in runs.into_iter().enumerate() {
                if index > 0 {
                    all.push(regular("; "));
                }
                all.push(run);
            }
            let mut slab = setter.set(&paragraph, &all, BODY, width);
            slab.above = 1.2;
            slabs.push(slab);
        }
    }
    slabs
}

/// The pages of the drawings of a few pieces that have no picture beside them.
fn drawings(setter: &Setter, step: &StepBlock) -> Vec<Run> {
    if step.figure.is_some() || step.pieces.len() > FEW {
        return Vec::new();
    }
    let mut seen = Vec::new();
    let mut runs = Vec::new();
    for (_, part) in &step.pieces {
        let anchor = format!("part-{part}");
        let page = setter.pages.get(&anchor).copied().unwrap_or(0);
        if !seen.contains(&page) {
            seen.push(page);
            let words = said(setter.document.words.document.on_page, &[&page.to_string()]);
            runs.push(Run::new(&words, BookFace::Regular).to(Target::Anchor(anchor)));
        }
    }
    runs
}

/// Something to do, with its box.
pub(super) fn act_line(setter: &Setter, list: &[Node], words: &str, face: BookFace) -> Slab {
    let item = setter.numbers.inside(list, "LI");
    let body = setter.numbers.inside(&item, "LBody");
    let mut slab = setter
        .words(&body, words, face, BODY, READING - INDENT)
        .indented(INDENT);
    slab.inks.push(unread(vec![tick(0.0, BODY)]));
    slab.above = 1.5;
    slab
}
