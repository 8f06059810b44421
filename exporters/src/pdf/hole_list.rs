//! The list of holes with their distances from the edges: to check with a tape, and for marks too crowded for labels.

use jigless_model::geom::{Bounds, Point};
use jigless_model::side::{Edge, Face};

use super::card::wrapped;
use super::page_format::PageFormat;
use super::page_frame;
use super::paper_sheet::PaperSheet;
use super::template::Template;
use crate::drawing::face_work::HoleEntry;
use crate::drawing::text::LABEL;
use crate::drawing::{Anchor, Item, Role, TextLine, Weight, font};

/// From one line to the next, in millimetres.
const STEP: f64 = LABEL * 1.35;
/// Least room for a distance, in millimetres.
const NUMBER: f64 = 15.0;
/// Where the numbers of a line begin, in millimetres: after the tick box and the name of the hole.
const NAME: f64 = 16.0;
/// Between two columns, in millimetres.
const GAP: f64 = 6.0;
/// Room to write down what a tape says.
const BLANK: &str = "______";
/// The narrowest column, in millimetres.
const NARROWEST: f64 = 48.0;

/// The lists of all faces, and what the pages had no room to say.
pub(super) struct HoleList {
    part: String,
    width: f64,
    number: f64,
    lines: Vec<HoleListLine>,
}

/// A line of the list.
enum HoleListLine {
    Heading(String),
    Words(String),
    /// A hole and its distances.
    Hole {
        id: String,
        from_side: String,
        from_bottom: String,
    },
    /// A distance to be measured before anything is drilled, and room for what the tape says.
    Verify {
        between: String,
        distance: String,
    },
}

impl HoleList {
    /// The lists of some templates. `ruled` is the work that is set out with a rule, `unplaced` are the labels that found
    /// no room.
    pub(super) fn new(templates: &[Template], ruled: &[String], unplaced: &[String]) -> Self {
        let mut list = Self {
            part: templates
                .first()
                .map(|t| t.caption.part.clone())
                .unwrap_or_default(),
            width: NARROWEST,
            number: NUMBER,
            lines: Vec::new(),
        };
        let numbers = templates.iter().flat_map(|template| {
            let holes = template.drawing.holes.iter();
            holes.flat_map(|hole| {
                [hole.centre.x, hole.centre.y].map(|mm| width(&template.lengths.bare(mm)))
            })
        });
        list.number = numbers.fold(NUMBER - 2.0, f64::max) + 2.0;
        list.width = NARROWEST.max(NAME + 2.0 * list.number);
        list.verify(templates);
        for face in Face::ALL {
            list.holes_of(templates, face);
        }
        list.section("by rule and gauge", ruled);
        list.section("no room on the page for", unplaced);
        list
    }

    fn heading(&mut self, words: &str) {
        let wrapped = wrapped(words, self.width);
        self.lines
            .extend(wrapped.into_iter().map(HoleListLine::Heading));
    }

    fn section(&mut self, heading: &str, words: &[String]) {
        if words.is_empty() {
            return;
        }
        self.heading(heading);
        for words in words {
            let wrapped = wrapped(words, self.width);
            self.lines
                .extend(wrapped.into_iter().map(HoleListLine::Words));
        }
    }

    /// Distances that prove a template: the longest on each small one, and both ways across the seams of a large one.
    fn verify(&mut self, templates: &[Template]) {
        let mut lines = Vec::new();
        for template in templates {
            for (a, b) in long_pairs(template) {
                let page = |hole: &HoleEntry| {
                    let owner = template
                        .tiles
                        .iter()
                        .position(|tile| tile.core.contains(hole.centre, 1e-6));
                    let name = template.page_name(owner.unwrap_or(0));
                    match template.face {
                        Face::Front => name,
                        Face::Back => format!("back {name}"),
                    }
                };
                let between = if page(a) == page(b) {
                    format!("{}: {} to {}", page(a), a.id, b.id)
                } else {
                    format!("{} {} to {} {}", page(a), a.id, page(b), b.id)
                };
                let distance = template.lengths.bare(a.centre.distance(b.centre));
                // Where both do not fit one line, the names stand over the numbers.
                if 4.0 + width(&between) + width(&distance) + width(BLANK) + 5.0 > self.width {
                    let names = wrapped(&between, self.width);
                    lines.extend(names.into_iter().map(HoleListLine::Words));
                    let between = String::new();
                    lines.push(HoleListLine::Verify { between, distance });
                } else {
                    lines.push(HoleListLine::Verify { between, distance });
                }
            }
        }
        if let (false, Some(first)) = (lines.is_empty(), templates.first()) {
            self.heading(&format!(
                "verify with a tape before drilling, {}: template, and yours",
                first.lengths.describe()
            ));
            self.lines.append(&mut lines);
        }
    }

    /// The holes of a face, those that are drilled alike together.
    fn holes_of(&mut self, templates: &[Template], face: Face) {
        let of_face = || templates.iter().filter(|template| template.face == face);
        let holes = || of_face().flat_map(|template| &template.drawing.holes);
        let (Some(first), Some(_)) = (of_face().next(), holes().next()) else {
            return;
        };
        // The list of the back counts from the edge that is on the left of its page.
        let side = match face {
            Face::Front => Edge::Left,
            Face::Back => Edge::Right,
        };
        let lengths = first.lengths;
        self.heading(&format!(
            "{} face: from {} and bottom edge, {}",
            face.name(),
            side.name(),
            lengths.describe()
        ));
        let mut alike: Vec<&str> = Vec::new();
        for hole in holes() {
            if !alike.contains(&hole.what.as_str()) {
                alike.push(&hole.what);
            }
        }
        for what in alike {
            let wrapped = wrapped(what, self.width);
            self.lines
                .extend(wrapped.into_iter().map(HoleListLine::Words));
            let same = holes().filter(|hole| hole.what == what);
            self.lines.extend(same.map(|hole| HoleListLine::Hole {
                id: hole.id.clone(),
                from_side: lengths.bare(hole.centre.x),
                from_bottom: lengths.bare(hole.centre.y),
            }));
        }
    }

    /// How many lines there are.
    pub(super) fn len(&self) -> usize {
        self.lines.len()
    }

    /// Fills a box with the lines from one on; gives the items and how many lines have now been taken.
    pub(super) fn fill(&self, inside: Bounds, from: usize) -> (Vec<Item>, usize) {
        let lines = &self.lines;
        let rows = (inside.height() / STEP).floor().max(0.0) as usize;
        let rest = lines.len() - from.min(lines.len());
        let most = ((inside.width() + GAP) / (self.width + GAP))
            .floor()
            .max(1.0) as usize;
        let columns = rest.div_ceil(rows.max(1)).clamp(1, most);
        let mut items = Vec::new();
        let taken = lines.len().min(from + rows * columns);
        for (index, line) in lines[from.min(taken)..taken].iter().enumerate() {
            let x = inside.min.x + (self.width + GAP) * (index / rows) as f64;
            let y = inside.max.y - STEP * ((index % rows) as f64 + 1.0);
            items.extend(self.draw(line, Point::new(x, y)));
        }
        (items, taken)
    }

    /// A page of the list from a line on, and how many lines have now been taken.
    pub(super) fn page(
        &self,
        format: PageFormat,
        correction: Option<&str>,
        from: usize,
    ) -> (PaperSheet, usize) {
        let note = match correction {
            Some(correction) => format!("NOT TO SCALE · {correction}"),
            None => "NOT TO SCALE".to_owned(),
        };
        let (mut items, taken) = self.fill(page_frame::below_title(format), from);
        items.extend(page_frame::title(
            format,
            &format!("HOLES, {}", self.part),
            &note,
        ));
        let sheet = PaperSheet {
            format,
            items,
            viewport: None,
        };
        (sheet, taken)
    }

    fn draw(&self, line: &HoleListLine, at: Point) -> Vec<Item> {
        let text = |x: f64, words: &str| TextLine::new(at + Point::new(x, 0.8), LABEL, words);
        let tick = || page_frame::tick_box(at + Point::new(0.0, 0.6), 2.6);
        match line {
            HoleListLine::Heading(words) => {
                let words = text(0.0, words).bold().fitted(self.width);
                vec![Item::text(Role::Frame, words)]
            }
            HoleListLine::Words(words) => {
                vec![Item::text(Role::Frame, text(0.0, words).fitted(self.width))]
            }
            HoleListLine::Hole {
                id,
                from_side,
                from_bottom,
            } => {
                let id = text(4.0, id).fitted(NAME - 5.0);
                let side = text(self.width - self.number, from_side).anchored(Anchor::End);
                let bottom = text(self.width, from_bottom).anchored(Anchor::End);
                let texts = [id, side, bottom].map(|text| Item::text(Role::Frame, text));
                [tick()].into_iter().chain(texts).collect()
            }
            HoleListLine::Verify { between, distance } => {
                let blank = text(self.width, BLANK).anchored(Anchor::End);
                let distance =
                    text(self.width - blank.width() - 1.5, distance).anchored(Anchor::End);
                let room = self.width - blank.width() - distance.width() - 7.0;
                let between = text(4.0, between).fitted(room);
                let texts = [between, distance, blank].map(|text| Item::text(Role::Frame, text));
                [tick()].into_iter().chain(texts).collect()
            }
        }
    }
}

fn width(words: &str) -> f64 {
    font::width(words, Weight::Regular) * LABEL
}

/// The pairs of holes that are worth measuring: along both diagonals of the work, the longest first.
fn long_pairs(template: &Template) -> Vec<(&HoleEntry, &HoleEntry)> {
    let holes = &template.drawing.holes;
    let mut pairs: Vec<(&HoleEntry, &HoleEntry)> = Vec::new();
    for way in [Point::new(1.0, 1.0), Point::new(-1.0, 1.0)] {
        let along = |hole: &&HoleEntry| hole.centre.dot(way);
        let low = holes.iter().min_by(|a, b| along(a).total_cmp(&along(b)));
        let high = holes.iter().max_by(|a, b| along(a).total_cmp(&along(b)));
        if let (Some(low), Some(high)) = (low, high)
            && low.centre.distance(high.centre) > 1.0
            && !pairs.iter().any(|(a, b)| {
                (a.id == low.id && b.id == high.id) || (a.id == high.id && b.id == low.id)
            })
        {
            pairs.push((low, high));
        }
    }
    pairs
}
