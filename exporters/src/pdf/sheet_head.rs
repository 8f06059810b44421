//! The head of a sheet of templates: what part it is for, how many pieces, where it is on the part and in the finished
//! piece.

use jigless_model::geom::{Bounds, Point};

use super::in_place::FinishedPiece;
use super::page_format::PageFormat;
use super::page_frame::{self, HEAD, tick_box};
use super::page_map::{self, MapCell};
use super::template::Template;
use crate::drawing::{Item, Role, TextLine};

/// Height of the pictures in the head, in millimetres.
const PICTURE: f64 = 25.4;
/// Size of the name of the part, in millimetres.
const TITLE: f64 = 4.6;
/// Size of the other words, in millimetres: 7.5 pt.
const WORDS: f64 = 2.65;
/// From one line of words to the next, in millimetres.
const STEP: f64 = 3.3;
/// So many pieces have a box each to tick.
const MOST_BOXES: u32 = 12;

/// A part that a sheet is for.
#[derive(Debug, Clone)]
pub(super) struct SheetPart {
    /// Its id.
    pub(super) id: String,
    /// Its mark, as lists and pictures have it. It counts for no fingerprint, since parts get other marks when others come.
    pub(super) mark: String,
    /// Its name.
    pub(super) title: String,
    /// How many pieces.
    pub(super) count: u32,
    /// The other one of a handed pair, in words.
    pub(super) pair: Option<String>,
}

impl SheetPart {
    /// Its mark and its name: several parts may have one name, such as the sides of unlike drawers.
    pub(super) fn named(&self) -> String {
        named(&self.mark, &self.title)
    }
}

/// The mark and the name of a part.
pub(super) fn named(mark: &str, title: &str) -> String {
    format!("{mark} · {title}")
}

/// What is the same whatever else the plan holds: the pictures, and words about the part.
pub(super) fn of_part(
    format: PageFormat,
    template: &Template,
    cells: &[MapCell],
    piece: &FinishedPiece,
) -> Vec<Item> {
    let (words, pictures) = split(format);
    let view = &template.view;
    let holes: Vec<Point> = template
        .drawing
        .holes
        .iter()
        .map(|hole| hole.centre)
        .collect();
    let id = view.workpiece.part.id.as_str();
    let map = if piece.shows(id) {
        let half = f64::midpoint(pictures.min.x, pictures.max.x);
        Bounds::new(Point::new(half, pictures.min.y), pictures.max)
    } else {
        pictures
    };
    let mut items = page_map::draw(map, view, template.caption.hand, cells, &holes);
    let caption = &template.caption;
    let lines = [
        format!("1:1 TEMPLATE · {}", caption.face),
        format!(
            "{}, {} thick as measured, {}",
            caption.size, caption.thick, caption.stock
        ),
    ];
    let mut y = words.max.y - TITLE - 1.2;
    for (index, line) in lines.iter().enumerate() {
        y -= STEP;
        let text = TextLine::new(Point::new(words.min.x, y + 0.8), WORDS, line);
        let text = if index == 0 { text.bold() } else { text };
        items.push(Item::text(Role::Frame, text.fitted(words.width())));
    }
    items
}

/// The picture of the finished piece, the name of the part, the pieces to tick off; and what no fingerprint knows: the plan,
/// the number of the sheet and the steps that use it.
pub(super) fn of_plan(
    format: PageFormat,
    piece: &FinishedPiece,
    parts: &[SheetPart],
    [plan, sheet, uses]: [&str; 3],
    correction: Option<&str>,
) -> Vec<Item> {
    let (words, pictures) = split(format);
    let mut items = Vec::new();
    let ids: Vec<&str> = parts.iter().map(|part| part.id.as_str()).collect();
    if ids.iter().any(|id| piece.shows(id)) {
        let half = f64::midpoint(pictures.min.x, pictures.max.x);
        let room = Bounds::new(pictures.min, Point::new(half - 2.0, pictures.max.y));
        items.extend(piece.draw(room, &ids));
    }
    let titles: Vec<String> = parts.iter().map(SheetPart::named).collect();
    let title = TextLine::new(
        Point::new(words.min.x, words.max.y - TITLE),
        TITLE,
        &titles.join(" + "),
    );
    items.push(Item::text(Role::Frame, title.bold().fitted(words.width())));
    let line = |row: f64, words_: &str| {
        let at = Point::new(words.min.x, words.min.y + STEP * row + 0.8);
        TextLine::new(at, WORDS, words_).fitted(words.width())
    };
    let sheet = match correction {
        Some(correction) => format!("{sheet} · {correction}"),
        None => sheet.to_owned(),
    };
    items.push(Item::text(Role::Frame, line(0.0, &sheet).bold()));
    items.push(Item::text(Role::Frame, line(1.0, plan)));
    items.extend(pieces(words, &line(2.0, ""), parts));
    if !uses.is_empty() {
        items.push(Item::text(Role::Frame, line(3.0, uses)));
    }
    items
}

/// The pieces that the sheet is used on, with a box for each.
fn pieces(words: Bounds, line: &TextLine, parts: &[SheetPart]) -> Vec<Item> {
    let mut items = Vec::new();
    let mut x = words.min.x;
    let total: u32 = parts.iter().map(|part| part.count).sum();
    let mut write = |x: &mut f64, words_: &str| {
        let text = TextLine::new(Point::new(*x, line.at.y), WORDS, words_);
        *x += text.width() + 1.2;
        if *x <= words.max.x {
            items.push(Item::text(Role::Frame, text));
        }
    };
    let mut boxes = Vec::new();
    if parts.len() == 1 {
        write(&mut x, &format!("make {total}:"));
    } else {
        write(&mut x, &format!("for {total} pieces:"));
    }
    for part in parts {
        if parts.len() > 1 {
            write(&mut x, &part.named());
        }
        for _ in 0..part.count.min(MOST_BOXES) {
            if x + 3.0 <= words.max.x {
                boxes.push(tick_box(Point::new(x, line.at.y - 0.3), 2.2));
            }
            x += 3.2;
        }
        x += 1.5;
    }
    if let [
        SheetPart {
            pair: Some(pair), ..
        },
    ] = parts
    {
        write(&mut x, pair);
    }
    items.extend(boxes);
    items
}

/// The room for words and the room for pictures.
fn split(format: PageFormat) -> (Bounds, Bounds) {
    let printable = format.printable();
    let head = Bounds::new(
        Point::new(printable.min.x, printable.max.y - HEAD + 1.4),
        printable.max,
    );
    let wide = 2.0 * PICTURE + 6.0;
    let from = head.max.x - wide;
    (
        Bounds::new(head.min, Point::new(from - 3.0, head.max.y)),
        Bounds::new(
            Point::new(from, head.max.y - PICTURE),
            Point::new(head.max.x, head.max.y),
        ),
    )
}

/// The bars along the lower and the left side.
pub(super) fn bars(format: PageFormat, template: &Template) -> Vec<Item> {
    page_frame::check_bars(format, template.lengths.bar_unit())
}
