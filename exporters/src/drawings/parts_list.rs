//! The parts list of a drawing: the marks and what they stand for.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};
use jigless_model::mark::Marks;
use jigless_model::plan::Part;

use crate::drawing::measure::Lengths;
use crate::drawing::{Anchor, Ink, Item, Pen, Role, TextLine};

/// Size of letters and from one line to the next, in millimetres.
const LETTERS: f64 = 2.8;
const STEP: f64 = 4.6;
const THIN: Pen = Pen::new(0.13, Ink::BLACK);

/// A column: its head, where it begins as a share of the width, and where its words lie.
const COLUMNS: [(&str, f64, Anchor); 6] = [
    ("Mark", 0.0, Anchor::Start),
    ("Count", 0.14, Anchor::End),
    ("Part", 0.16, Anchor::Start),
    ("Length", 0.58, Anchor::End),
    ("Width", 0.72, Anchor::End),
    ("Stock", 0.74, Anchor::Start),
];

/// How many lines a list of some height holds below its head.
pub(super) fn lines_in(height: f64) -> usize {
    ((height - STEP) / STEP).floor().max(0.0) as usize
}

/// Height of a list of so many lines, in millimetres.
pub(super) fn height_of(lines: usize) -> f64 {
    STEP * (lines as f64 + 1.0) + 1.0
}

/// The parts in the order of their marks.
pub(super) fn in_order<'a>(input: &ExportInput<'a>) -> Vec<(String, &'a Part)> {
    let marks = Marks::of(input.plan);
    let mut parts: Vec<(String, &Part)> = input
        .workpieces
        .iter()
        .map(|workpiece| (marks.mark(&workpiece.part.id).to_owned(), &*workpiece.part))
        .collect();
    parts.sort_by(|a, b| a.0.len().cmp(&b.0.len()).then(a.0.cmp(&b.0)));
    parts
}

/// A list from the top of a box downward.
pub(super) fn list(inside: Bounds, parts: &[(String, &Part)], lengths: Lengths) -> Vec<Item> {
    let width = inside.width();
    let mut items = Vec::new();
    let rule = |y: f64| {
        let from = Point::new(inside.min.x, y);
        Item::line(Role::Frame, from, from + Point::new(width, 0.0), THIN)
    };
    let mut row = |y: f64, cells: [String; 6], bold: bool| {
        for (number, (cell, (_, share, anchor))) in cells.iter().zip(COLUMNS).enumerate() {
            let begin = match anchor {
                Anchor::End => COLUMNS[number - 1].1,
                _ => share,
            };
            let end = match anchor {
                Anchor::End => share,
                _ => COLUMNS.get(number + 1).map_or(1.0, |next| {
                    if next.2 == Anchor::End {
                        next.1 - 0.06
                    } else {
                        next.1
                    }
                }),
            };
            let at = Point::new(inside.min.x + width * share, y + 1.3);
            let text = TextLine::new(at, LETTERS, cell).anchored(anchor);
            let text = if bold { text.bold() } else { text };
            items.push(Item::text(
                Role::Frame,
                text.fitted(width * (end - begin).abs() - 1.0),
            ));
        }
    };
    let mut y = inside.max.y - STEP;
    row(y, COLUMNS.map(|(head, ..)| head.to_owned()), true);
    let mut rules = vec![rule(y)];
    for (mark, part) in parts {
        y -= STEP;
        let sides = [part.width.max(part.height), part.width.min(part.height)];
        let (length, width) = match part.grain {
            jigless_model::plan::Grain::Width => (part.width, part.height),
            jigless_model::plan::Grain::Height => (part.height, part.width),
            jigless_model::plan::Grain::None => (sides[0], sides[1]),
        };
        row(
            y,
            [
                mark.clone(),
                part.count.to_string(),
                part.title.clone(),
                lengths.bare(length),
                lengths.bare(width),
                part.stock.label.clone(),
            ],
            false,
        );
        rules.push(rule(y));
    }
    items.extend(rules);
    items
}
