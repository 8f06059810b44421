//! The list of holes with their distances from the edges: to check with a tape, and for marks too crowded for labels.

use jigless_core::geom::{Bounds, Point};
use jigless_core::side::{Edge, Face};

use super::sheet::{self, Sheet, tick_box};
use super::template::Template;
use crate::drawing::measure::Lengths;
use crate::drawing::text::LABEL;
use crate::drawing::{Item, Role, Text, Weight, font};

/// From one line to the next, in millimetres.
const STEP: f64 = LABEL * 1.35;
/// Room for a distance, in millimetres.
const NUMBER: f64 = 15.0;
/// Where the words of a line begin, in millimetres: after the tick box and the name of the hole.
const WORDS: f64 = 16.0;
/// Between two columns, in millimetres.
const GAP: f64 = 5.0;

/// The lists of all faces, and what the pages had no room to say.
pub(super) struct HoleList {
    part: String,
    lines: Vec<Line>,
}

/// A line of the list: a heading, words, or a hole.
enum Line {
    Heading(String),
    Words(String),
    Hole {
        id: String,
        what: String,
        from_side: String,
        from_bottom: String,
    },
}

impl HoleList {
    /// The lists of some templates. `homeless` are the labels that found no room.
    pub(super) fn new(templates: &[Template], homeless: Vec<String>) -> Self {
        let mut lines = Vec::new();
        for template in templates {
            let holes = &template.drawing.holes;
            if holes.is_empty() {
                continue;
            }
            // The list of the back counts from the edge that is on the left of its page.
            let side = match template.face {
                Face::Front => Edge::Left,
                Face::Back => Edge::Right,
            };
            let lengths = Lengths {
                unit: template.unit,
            };
            lines.push(Line::Heading(format!(
                "{} face: from {} and bottom edge, {}",
                template.face.name(),
                side.name(),
                template.unit.symbol()
            )));
            lines.extend(holes.iter().map(|hole| Line::Hole {
                id: hole.id.clone(),
                what: hole.what.clone(),
                from_side: lengths.bare(hole.centre.x),
                from_bottom: lengths.bare(hole.centre.y),
            }));
        }
        if !homeless.is_empty() {
            lines.push(Line::Heading("no room on the page for".to_owned()));
            lines.extend(homeless.into_iter().map(Line::Words));
        }
        let part = templates.first().map(|t| t.caption.part.clone());
        Self {
            part: part.unwrap_or_default(),
            lines,
        }
    }

    /// How many lines there are.
    pub(super) fn len(&self) -> usize {
        self.lines.len()
    }

    /// Width that the widest line takes, in millimetres.
    fn width(&self) -> f64 {
        let words = |words: &str, weight| font::width(words, weight) * LABEL;
        let widths = self.lines.iter().map(|line| match line {
            Line::Heading(heading) => words(heading, Weight::Bold),
            Line::Words(line) => words(line, Weight::Regular),
            Line::Hole { what, .. } => WORDS + words(what, Weight::Regular) + 2.0 + 2.0 * NUMBER,
        });
        widths.fold(0.0, f64::max)
    }

    /// Fills a box with the lines from one on; gives the items and how many lines have now been taken.
    pub(super) fn fill(&self, inside: Bounds, from: usize) -> (Vec<Item>, usize) {
        let lines = &self.lines;
        let rows = (inside.height() / STEP).floor().max(0.0) as usize;
        let rest = lines.len() - from.min(lines.len());
        let most = (inside.width() / (self.width() + GAP)).floor().max(1.0) as usize;
        let columns = rest.div_ceil(rows.max(1)).clamp(1, most);
        let width = (inside.width() / columns as f64).min(self.width() + 3.0 * GAP);
        let mut items = Vec::new();
        let taken = lines.len().min(from + rows * columns);
        for (index, line) in lines[from.min(taken)..taken].iter().enumerate() {
            let x = inside.min.x + width * (index / rows) as f64;
            let y = inside.max.y - STEP * ((index % rows) as f64 + 1.0);
            items.extend(draw(line, Point::new(x, y), width - GAP));
        }
        (items, taken)
    }

    /// A page of the list from a line on, and how many lines have now been taken.
    pub(super) fn page(&self, size: (f64, f64), from: usize) -> (Sheet, usize) {
        let printable = sheet::printable(size);
        let title = Text::new(
            Point::new(printable.min.x, printable.max.y - 6.0),
            6.0,
            &format!("HOLES, {}", self.part),
        )
        .bold()
        .fitted(printable.width());
        let inside = Bounds::new(printable.min, printable.max - Point::new(0.0, 10.0));
        let (mut items, taken) = self.fill(inside, from);
        items.push(Item::text(Role::Frame, title));
        items.push(Item::text(
            Role::Frame,
            Text::new(printable.max - Point::new(0.0, 6.0), LABEL, "NOT TO SCALE")
                .anchored(crate::drawing::Anchor::End),
        ));
        let sheet = Sheet {
            size,
            items,
            viewport: None,
        };
        (sheet, taken)
    }
}

fn draw(line: &Line, at: Point, width: f64) -> Vec<Item> {
    let text = |x: f64, words: &str| Text::new(at + Point::new(x, 0.8), LABEL, words);
    match line {
        Line::Heading(words) => {
            vec![Item::text(
                Role::Frame,
                text(0.0, words).bold().fitted(width),
            )]
        }
        Line::Words(words) => vec![Item::text(Role::Frame, text(0.0, words).fitted(width))],
        Line::Hole {
            id,
            what,
            from_side,
            from_bottom,
        } => {
            let (x, y) = (width - NUMBER, width);
            let end = crate::drawing::Anchor::End;
            let id = text(4.0, id).fitted(WORDS - 5.0);
            let what = text(WORDS, what).fitted(x - NUMBER - WORDS);
            let side = text(x, from_side).anchored(end);
            let bottom = text(y, from_bottom).anchored(end);
            let mut items = vec![tick_box(at + Point::new(0.0, 0.6), 2.6)];
            items.extend([id, what, side, bottom].map(|text| Item::text(Role::Frame, text)));
            items
        }
    }
}
