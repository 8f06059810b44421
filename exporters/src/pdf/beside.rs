//! What is to be read beside the work of a template: how deep, in which order, and what it looks like inside the wood.

use jigless_model::operation::{AngledBore, Depth, Drill, Work};
use jigless_model::view::FaceView;

use super::card::{Card, CardLine};
use super::drill_order;
use super::guide_block::GuideBlock;
use super::short_names;
use crate::drawing::measure::Lengths;
use crate::drawing::section;

/// Width of cards with words, in millimetres.
const WIDTH: f64 = 82.0;
/// The thinnest wood that may be left under a blind hole before the point of the bit is warned of, in millimetres
/// (common practice, no source).
const THIN: f64 = 3.0;

/// What a template knows of how it lies on the part.
#[derive(Debug, Default, Clone)]
pub(super) struct PlacingSteps {
    /// How to lay it on.
    pub(super) steps: Vec<String>,
    /// Distances of its marks, to be checked with a tape once it lies.
    pub(super) distances: Vec<String>,
    /// What it is used for, where it is used again: a line each, to be ticked off.
    pub(super) uses: Vec<String>,
}

/// What stands beside the work.
#[derive(Debug, Default, Clone)]
pub(super) struct Beside {
    /// What never leaves its template: depths, steps, order.
    pub(super) needed: Vec<Card>,
    /// What may stand on another page where there is no room.
    pub(super) more: Vec<Card>,
}

/// The cards of what a view shows, their words in a size.
pub(super) fn cards(
    view: &FaceView,
    placing: &PlacingSteps,
    collar: f64,
    lengths: Lengths,
    size: f64,
) -> Beside {
    let card = |lines: &[CardLine]| Card::of_words_at(lines, WIDTH, size).padded_to(WIDTH);
    let mut beside = Beside::default();
    let stops = stops(view, lengths);
    if !stops.is_empty() {
        beside.needed.push(Card::of_words_at(&stops, WIDTH, size));
    }
    // The largest first: the rest fits around them.
    beside.needed.extend(sections(view, collar, lengths, size));
    let order = drill_order::words(view, lengths);
    let scrap = (!order.is_empty())
        .then(|| CardLine::Tick("Drill scrap of the same thickness first.".to_owned()));
    let numbered = placing.steps.iter().cloned().chain(order).enumerate();
    let mut how: Vec<CardLine> = numbered
        .map(|(index, step)| CardLine::Plain(format!("{}. {step}", index + 1)))
        .collect();
    how.extend(scrap);
    if !how.is_empty() {
        beside.needed.push(card(&how));
    }
    if !placing.uses.is_empty() {
        let mut lines = vec![CardLine::Bold(format!("use {} times", placing.uses.len()))];
        lines.extend(placing.uses.iter().cloned().map(CardLine::Tick));
        beside.needed.push(card(&lines));
    }
    if !placing.distances.is_empty() {
        let mut lines = vec![CardLine::Bold("check with a tape once it lies".to_owned())];
        lines.extend(placing.distances.iter().cloned().map(CardLine::Tick));
        beside.more.push(card(&lines));
    }
    beside
}

/// The depth stops, each once, in large type, with the names of the holes.
fn stops(view: &FaceView, lengths: Lengths) -> Vec<CardLine> {
    let mut found: Vec<(String, f64, Vec<String>)> = Vec::new();
    let mut add = |what: String, left: f64, id: &str| match found
        .iter_mut()
        .find(|(other, ..)| *other == what)
    {
        Some((.., ids)) => ids.push(id.to_owned()),
        None => found.push((what, left, vec![id.to_owned()])),
    };
    let thickness = view.workpiece.part.thickness();
    for operation in view.operations.iter().chain(&view.edge_work) {
        match &operation.work {
            Work::Drill(drill) => {
                if let Depth::Blind(depth) = drill.depth {
                    let size = lengths.bare(drill.diameter);
                    let what = format!("Ø{size} STOP {}", lengths.full_depth(depth));
                    add(what, thickness - depth, &drill.id);
                }
            }
            Work::EdgeDrill(hole) => {
                let size = lengths.bare(hole.diameter);
                let what = format!(
                    "Ø{size} STOP {} in the edge",
                    lengths.full_depth(hole.depth)
                );
                add(what, f64::INFINITY, &hole.id);
            }
            _ => {}
        }
    }
    let mut lines = Vec::new();
    for (what, left, ids) in found {
        lines.push(CardLine::Large(format!(
            "{what}: {}",
            short_names::joined(&ids)
        )));
        if left < THIN {
            lines.push(CardLine::Plain(format!(
                "only {} of wood is left under it: mind the point of the bit",
                lengths.full(left)
            )));
        }
    }
    lines
}

/// One section for all bores that look the same.
fn sections(view: &FaceView, collar: f64, lengths: Lengths, size: f64) -> Vec<Card> {
    let thickness = view.workpiece.part.thickness();
    let of_bore = |bore: &AngledBore| {
        let guide = GuideBlock::new(bore, collar);
        let mut section = section::of_bore(bore, thickness, lengths);
        section.stop = format!(
            "STOP COLLAR {}",
            lengths.full_depth(guide.collar_distance())
        );
        section.lines.push(format!(
            "collar Ø{} on the guide block; shoulder {} from the edge",
            lengths.bare(collar),
            lengths.full(guide.shoulder_from_edge())
        ));
        Some(section)
    };
    let of_drill = |drill: &Drill| section::of_drill(drill, thickness, lengths);
    let mut found: Vec<(Vec<String>, section::Section)> = Vec::new();
    for operation in &view.operations {
        let (id, section) = match &operation.work {
            Work::AngledBore(bore) => (&bore.id, of_bore(bore)),
            Work::Drill(drill) => (&drill.id, of_drill(drill)),
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
        .map(|(ids, section)| Card::of_section(section, &short_names::joined(ids), size))
        .collect()
}
