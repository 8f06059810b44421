//! What is to be read beside the work of a template: how deep, in which order, how it was worked out, and what it looks
//! like inside the wood.

use jigless_model::operation::{Depth, Work};
use jigless_model::view::FaceView;

use super::card::{Card, CardLine};
use crate::drawing::measure::Lengths;
use crate::drawing::section;

/// Width of cards with words, in millimetres.
const WIDTH: f64 = 82.0;
/// The thinnest wood that may be left under a blind hole before the point of the bit is warned of, in millimetres
/// (common practice, no source).
const THIN: f64 = 3.0;

/// What a template knows of how it lies on the part.
#[derive(Debug, Default)]
pub(super) struct PlacingSteps {
    /// How to lay it on.
    pub(super) steps: Vec<String>,
    /// Distances of its marks, to be checked with a tape once it lies.
    pub(super) distances: Vec<String>,
}

/// The cards of what a view shows. `features` are the numbers of its features.
pub(super) fn cards(
    view: &FaceView,
    features: &[usize],
    placing: &PlacingSteps,
    lengths: Lengths,
) -> Vec<Card> {
    let mut cards = Vec::new();
    let stops = stops(view, lengths);
    if !stops.is_empty() {
        cards.push(Card::of_words(&stops, WIDTH));
    }
    // The largest first: the rest fits around them.
    cards.extend(sections(view, lengths));
    let order = order(view, lengths);
    let scrap = order
        .is_some()
        .then(|| CardLine::Tick("Drill scrap of the same thickness first.".to_owned()));
    let numbered = placing.steps.iter().cloned().chain(order).enumerate();
    let mut how: Vec<CardLine> = numbered
        .map(|(index, step)| CardLine::Plain(format!("{}. {step}", index + 1)))
        .collect();
    how.extend(scrap);
    if !how.is_empty() {
        cards.push(Card::of_words(&how, WIDTH).padded_to(WIDTH));
    }
    if !placing.distances.is_empty() {
        let mut lines = vec![CardLine::Bold("check with a tape once it lies".to_owned())];
        lines.extend(placing.distances.iter().cloned().map(CardLine::Tick));
        cards.push(Card::of_words(&lines, WIDTH).padded_to(WIDTH));
    }
    let workings = view.workpiece.workings.iter();
    let arithmetic: Vec<CardLine> = workings
        .filter(|working| features.binary_search(&working.feature).is_ok())
        .flat_map(|working| &working.lines)
        .map(|line| CardLine::Plain(line.to_string()))
        .collect();
    if !arithmetic.is_empty() {
        let mut lines = vec![CardLine::Bold(
            "worked out from your numbers; check them against the data sheet".to_owned(),
        )];
        lines.extend(arithmetic);
        cards.push(Card::of_words(&lines, WIDTH).padded_to(WIDTH));
    }
    cards
}

/// The depth stops, each once, in large type.
fn stops(view: &FaceView, lengths: Lengths) -> Vec<CardLine> {
    let mut lines: Vec<CardLine> = Vec::new();
    let thickness = view.workpiece.part.thickness();
    for operation in &view.operations {
        let Work::Drill(drill) = &operation.work else {
            continue;
        };
        let Depth::Blind(depth) = drill.depth else {
            continue;
        };
        let large = CardLine::Large(format!(
            "Ø{}: STOP {}",
            lengths.bare(drill.diameter),
            lengths.full(depth)
        ));
        if lines.contains(&large) {
            continue;
        }
        lines.push(large);
        if thickness - depth < THIN {
            lines.push(CardLine::Plain(format!(
                "only {} of wood is left under it: mind the point of the bit",
                lengths.full(thickness - depth)
            )));
        }
    }
    lines
}

/// In which order to drill: the narrow ones first, so that their marks are still there.
fn order(view: &FaceView, lengths: Lengths) -> Option<String> {
    let mut diameters: Vec<f64> = Vec::new();
    for operation in &view.operations {
        match &operation.work {
            Work::Drill(drill) => diameters.push(drill.diameter),
            Work::AngledBore(bore) => diameters.push(bore.diameter),
            _ => {}
        }
    }
    diameters.sort_by(f64::total_cmp);
    diameters.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let words: Vec<String> = diameters
        .iter()
        .map(|diameter| format!("Ø{}", lengths.bare(*diameter)))
        .collect();
    match words.as_slice() {
        [] => None,
        [only] => Some(format!(
            "Prick the middle of each cross, then drill {only}."
        )),
        many => Some(format!(
            "Prick the middle of each cross, then drill in this order: {}.",
            many.join(", ")
        )),
    }
}

/// One section for all bores that look the same.
fn sections(view: &FaceView, lengths: Lengths) -> Vec<Card> {
    let thickness = view.workpiece.part.thickness();
    let mut found: Vec<(Vec<String>, section::Section)> = Vec::new();
    for operation in &view.operations {
        let (id, section) = match &operation.work {
            Work::AngledBore(bore) => (&bore.id, Some(section::of_bore(bore, thickness, lengths))),
            Work::Drill(drill) => (&drill.id, section::of_drill(drill, thickness, lengths)),
            _ => continue,
        };
        let Some(section) = section else { continue };
        let same = found
            .iter_mut()
            .find(|(_, other)| other.stop == section.stop && other.lines == section.lines);
        match same {
            Some((ids, _)) => ids.push(id.clone()),
            None => found.push((vec![id.clone()], section)),
        }
    }
    found
        .iter()
        .map(|(ids, section)| Card::of_section(section, &joined(ids)))
        .collect()
}

/// A few names in full, many as a range.
fn joined(ids: &[String]) -> String {
    match ids {
        [first, .., last] if ids.len() > 4 => format!("{first} to {last}"),
        few => few.join(", "),
    }
}
