//! The list of holes of each part with their distances from the edges, to check with a tape and for marks too crowded for
//! labels; and what needs no sheet: rows of holes, rounded corners, grooves.

use jigless_model::geom::{Bounds, Point};
use jigless_model::side::{Edge, Face};
use jigless_model::view::FaceView;

use super::by_rule::RuledWork;
use super::card::wrapped_at;
use super::page_format::PageFormat;
use super::page_frame;
use super::page_map;
use super::paper_sheet::PaperSheet;
use super::rows::TableRow;
use super::sheet_head::named;
use super::template::Template;
use super::work_box::NEAR;
use crate::drawing::face_work::HoleEntry;
use crate::drawing::measure::Lengths;
use crate::drawing::{Anchor, Item, Role, TextLine, Weight};
use crate::used_in::UsedIn;
use crate::view_edge::{self, Axis};

/// Size of the words, in millimetres: 7.5 pt.
const WORDS: f64 = 2.65;
/// From one line to the next, in millimetres.
const STEP: f64 = WORDS * 1.3;
/// Where the numbers of a line begin, in millimetres: after the tick box and the name of the hole.
const NAME: f64 = 13.0;
/// Between two columns, in millimetres.
const GAP: f64 = 5.0;
/// Room to write down what a tape says.
const BLANK: &str = "______";
/// Width of a column, in millimetres: three of them fit A4.
const COLUMN: f64 = 57.0;
/// Height of a sketch, in lines.
const SKETCH: usize = 5;

/// The list of a part.
#[derive(Debug)]
pub(super) struct HoleList {
    lines: Vec<HoleListLine>,
}

/// A line of the list.
#[derive(Debug, Clone)]
enum HoleListLine {
    /// What the list is of, and the mark of the part before it if it is one. The mark counts for no fingerprint, since parts
    /// get other marks when others come.
    Title {
        mark: Option<String>,
        words: String,
    },
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
    /// A sketch, as high as some lines, from its lower left corner.
    Sketch(Vec<Item>),
    /// The step of the order of work that uses what was said before. It counts for no fingerprint, since steps get other
    /// numbers when other parts change.
    UsedIn(usize),
    /// Room between two things.
    Gap,
}

impl HoleListLine {
    /// How many lines it takes.
    fn rows(&self) -> usize {
        match self {
            HoleListLine::Sketch(_) => SKETCH,
            _ => 1,
        }
    }

    /// Whether it belongs to what follows it.
    fn leads(&self) -> bool {
        matches!(
            self,
            HoleListLine::Title { .. } | HoleListLine::Heading(_) | HoleListLine::Sketch(_)
        )
    }
}

impl HoleList {
    /// A list by its name.
    pub(super) fn new(title: &str) -> Self {
        Self::titled(None, title)
    }

    /// The list of a part by its mark and its name.
    pub(super) fn of_part(mark: &str, title: &str) -> Self {
        Self::titled(Some(mark.to_owned()), title)
    }

    fn titled(mark: Option<String>, title: &str) -> Self {
        let words = title.to_owned();
        let lines = vec![HoleListLine::Title { mark, words }];
        Self { lines }
    }

    /// Whether it says no more than the name of the part.
    pub(super) fn is_empty(&self) -> bool {
        self.lines.len() <= 1
    }

    /// All that it says, for a fingerprint.
    pub(super) fn words(&self) -> Vec<String> {
        let said = |line: &&HoleListLine| !matches!(line, HoleListLine::UsedIn(_));
        self.lines
            .iter()
            .filter(said)
            .map(|line| match line {
                HoleListLine::Title { words, .. }
                | HoleListLine::Heading(words)
                | HoleListLine::Words(words) => words.clone(),
                HoleListLine::Hole {
                    id,
                    from_side,
                    from_bottom,
                } => format!("{id} {from_side} {from_bottom}"),
                HoleListLine::Verify { between, distance } => format!("{between} {distance}"),
                HoleListLine::Sketch(_) | HoleListLine::Gap | HoleListLine::UsedIn(_) => {
                    String::new()
                }
            })
            .collect()
    }

    fn heading(&mut self, words: &str) {
        let wrapped = wrapped_at(words, COLUMN, Weight::Bold, WORDS);
        self.lines
            .extend(wrapped.into_iter().map(HoleListLine::Heading));
    }

    fn plain(&mut self, words: &str) {
        let wrapped = wrapped_at(words, COLUMN, Weight::Regular, WORDS);
        self.lines
            .extend(wrapped.into_iter().map(HoleListLine::Words));
    }

    /// Words under a heading; nothing where there are none.
    pub(super) fn section(&mut self, heading: &str, words: &[String]) {
        if words.is_empty() {
            return;
        }
        self.heading(heading);
        for words in words {
            self.plain(words);
        }
    }

    /// Grooves, rebates, bevels and pencil lines, and the steps in which parts come to their pencil outlines.
    pub(super) fn ruled(&mut self, work: &[RuledWork], used_in: &UsedIn) {
        if work.is_empty() {
            return;
        }
        self.heading("by rule and gauge");
        for RuledWork { words, goes_here } in work {
            self.plain(words);
            let step = goes_here
                .as_deref()
                .and_then(|title| used_in.comes_in(title));
            self.lines.extend(step.map(HoleListLine::UsedIn));
        }
    }

    /// What is set out by two or three numbers, each with a sketch of the face.
    pub(super) fn rows(&mut self, view: &FaceView, rows: &[TableRow]) {
        if rows.is_empty() {
            return;
        }
        self.heading("by rule and pencil, no sheet");
        for row in rows {
            let room = Bounds::of_size(COLUMN, STEP * SKETCH as f64);
            let sketch = page_map::sketch(room, view, &row.places);
            self.lines.push(HoleListLine::Sketch(sketch));
            self.plain(&row.words);
        }
    }

    /// Distances that prove a template: the longest on each small one, and both ways across the seams of a large one.
    pub(super) fn verify(&mut self, templates: &[Template]) {
        let mut lines = Vec::new();
        for template in templates {
            for (a, b) in long_pairs(template) {
                let page = |hole: &HoleEntry| {
                    let owner = template
                        .tiles
                        .iter()
                        .position(|tile| tile.core.contains(hole.centre, 1e-6));
                    let name = template.page_name(owner.unwrap_or(0));
                    match template.face() {
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
                lines.push(HoleListLine::Verify { between, distance });
            }
        }
        if !lines.is_empty() {
            self.heading("verify with a tape: template, yours");
            self.lines.append(&mut lines);
        }
    }

    /// The holes of a face, those that are drilled alike together, each from the edges that it lies near.
    pub(super) fn holes(&mut self, view: &FaceView, holes: &[HoleEntry], lengths: Lengths) {
        if holes.is_empty() {
            return;
        }
        self.heading(&format!("holes of the {} face", view.face.name()));
        let mut alike: Vec<&str> = Vec::new();
        for hole in holes {
            if !alike.contains(&hole.what.as_str()) {
                alike.push(&hole.what);
            }
        }
        for what in alike {
            self.plain(what);
            let same = holes.iter().filter(|hole| hole.what == what);
            self.lines.extend(same.map(|hole| HoleListLine::Hole {
                id: hole.id.clone(),
                from_side: from_edge(view, hole.centre, Axis::Across, lengths),
                from_bottom: from_edge(view, hole.centre, Axis::Upward, lengths),
            }));
        }
    }

    fn draw(line: &HoleListLine, at: Point) -> Vec<Item> {
        let text = |x: f64, words: &str| TextLine::new(at + Point::new(x, 0.7), WORDS, words);
        let tick = || page_frame::tick_box(at + Point::new(0.0, 0.5), 2.2);
        match line {
            HoleListLine::Title { mark, words } => {
                let words = match mark {
                    Some(mark) => named(mark, words),
                    None => words.clone(),
                };
                let words = text(0.0, &words).bold();
                let words = TextLine {
                    size: WORDS * 1.2,
                    ..words
                };
                vec![Item::text(Role::Frame, words.fitted(COLUMN))]
            }
            HoleListLine::Heading(words) => {
                let words = text(0.0, words).bold().fitted(COLUMN);
                vec![Item::text(Role::Frame, words)]
            }
            HoleListLine::Words(words) => {
                vec![Item::text(Role::Frame, text(0.0, words).fitted(COLUMN))]
            }
            HoleListLine::Hole {
                id,
                from_side,
                from_bottom,
            } => {
                let id = text(3.6, id).fitted(NAME - 4.0);
                let half = f64::midpoint(NAME, COLUMN);
                let side = text(half - 1.0, from_side).anchored(Anchor::End);
                let bottom = text(COLUMN, from_bottom).anchored(Anchor::End);
                let texts = [
                    id,
                    side.fitted(half - NAME - 2.0),
                    bottom.fitted(COLUMN - half),
                ];
                let texts = texts.map(|text| Item::text(Role::Frame, text));
                [tick()].into_iter().chain(texts).collect()
            }
            HoleListLine::Verify { between, distance } => {
                let blank = text(COLUMN, BLANK).anchored(Anchor::End);
                let distance = text(COLUMN - blank.width() - 1.5, distance).anchored(Anchor::End);
                let room = COLUMN - blank.width() - distance.width() - 6.5;
                let between = text(3.6, between).fitted(room);
                let texts = [between, distance, blank].map(|text| Item::text(Role::Frame, text));
                [tick()].into_iter().chain(texts).collect()
            }
            HoleListLine::Sketch(items) => items.iter().map(|item| item.moved(at)).collect(),
            HoleListLine::UsedIn(step) => {
                let words = text(3.6, &format!("used in step {step}"));
                vec![Item::text(Role::Frame, words)]
            }
            HoleListLine::Gap => Vec::new(),
        }
    }
}

/// How far a point lies from the edge that it is near to, or else from the datum of an axis: `L 23.85`. Letters are those of
/// the part's own edges: L, R, B, T.
fn from_edge(view: &FaceView, point: Point, axis: Axis, lengths: Lengths) -> String {
    let first = axis.datum(view);
    let second = first.opposite();
    let off = |edge: Edge| view_edge::distance(view, edge, point);
    let edge = if off(second) <= NEAR && off(second) < off(first) {
        second
    } else {
        first
    };
    let letter = view.physical(edge).name().chars().next().unwrap_or(' ');
    format!(
        "{} {}",
        letter.to_ascii_uppercase(),
        lengths.bare(off(edge))
    )
}

/// Pages of lists, one part after the other.
pub(super) fn pages(
    lists: &[&HoleList],
    format: PageFormat,
    title: &str,
    correction: Option<&str>,
    units: &str,
) -> Vec<PaperSheet> {
    let area = page_frame::below_title(format);
    let rows = (area.height() / STEP).floor().max(1.0) as usize;
    let columns = ((area.width() + GAP) / (COLUMN + GAP)).floor().max(1.0) as usize;
    let mut sheets: Vec<Vec<Item>> = Vec::new();
    let (mut column, mut row) = (columns, 0);
    for list in lists {
        let lines = list.lines.iter().chain([&HoleListLine::Gap]);
        let lines: Vec<&HoleListLine> = lines.collect();
        for (index, line) in lines.iter().enumerate() {
            // What leads to something stays with it.
            let ahead = lines[index..].iter().take_while(|line| line.leads());
            let ahead: usize = ahead.map(|line| line.rows()).sum();
            let wanted = line.rows().max((ahead + 2).min(rows));
            let needed = if line.leads() { wanted } else { line.rows() };
            if column >= columns || row + needed > rows {
                (column, row) = (if sheets.is_empty() { 0 } else { column + 1 }, 0);
                if column >= columns || sheets.is_empty() {
                    sheets.push(Vec::new());
                    column = 0;
                }
            }
            if matches!(line, HoleListLine::Gap) && row == 0 {
                continue;
            }
            let at = Point::new(
                area.min.x + (COLUMN + GAP) * column as f64,
                area.max.y - STEP * (row + line.rows()) as f64,
            );
            if let Some(sheet) = sheets.last_mut() {
                sheet.extend(HoleList::draw(line, at));
            }
            row += line.rows();
        }
    }
    let note = match correction {
        Some(correction) => format!("NOT TO SCALE · {correction}"),
        None => format!("NOT TO SCALE · {units}"),
    };
    sheets
        .into_iter()
        .map(|mut items| {
            items.extend(page_frame::title(format, title, &note));
            PaperSheet {
                format,
                items,
                viewports: Vec::new(),
            }
        })
        .collect()
}

/// The pairs of holes that are worth measuring: along both diagonals of the work, the longest first.
fn long_pairs<'a>(template: &'a Template) -> Vec<(&'a HoleEntry, &'a HoleEntry)> {
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
