//! The first page: bars to measure the print by, what to do, and where every page belongs.

use jigless_model::caution::{Caution, sentences};
use jigless_model::geom::{Bounds, Point, rounded_rectangle};
use jigless_model::units::MM_PER_INCH;

use super::card::{Card, CardLine, SMALL};
use super::correction::{LONG_BARS, LONG_BARS_INCHES};
use super::index::{self, IndexRow};
use super::legend;
use super::page_format::PageFormat;
use super::page_frame::{lines_down, long_bar};
use super::paper_sheet::PaperSheet;
use crate::drawing::text::LABEL;
use crate::drawing::{Ink, Item, Pen, Role, TextLine, Turn};

/// Room that the bars take along the lower and the left side, in millimetres.
const BARS: f64 = 16.5;
/// Room that the bar in inches takes along the right side, in millimetres.
const INCH_BAR: f64 = 8.5;
/// Width, height and corner radius of a bank or library card, in millimetres: ID-1 of ISO/IEC 7810 (85.60 x 53.98, radius
/// 3.18; from memory).
const CARD: (f64, f64, f64) = (85.60, 53.98, 3.18);
/// The least corner radius of such a card, which hides nothing of its straight sides.
const BESIDE_CARD: f64 = 5.0;

/// What to do with the print of any page.
const PRINT: [&str; 3] = [
    "Print this page alone at 100 % (actual size). Turn off fit to page, shrink and borderless.",
    "Measure all four bars with a steel rule, and lay a bank or library card on its outline.",
    "If a bar is out by more than 0.5 mm, mend the print settings before anything else is printed.",
];

/// What to do with templates.
const WORK: [&str; 4] = [
    "Print the rest, on one side of the paper. Cut templates that share a sheet apart.",
    "Sheets with a letter and a number: cut where the dotted line says so, lay join mark on join mark, tape.",
    "Lay each on the face that its banner names, this side up, its TOP to the top of the part, and tape it down.",
    "Prick the open middle of each cross with an awl. Arms show past the hole while it is drilled.",
];

/// What a check sheet says beside its bars.
pub(super) struct CheckSheetText<'a> {
    /// What it is for, in large type.
    pub(super) title: String,
    /// Lines under the title.
    pub(super) facts: Vec<String>,
    /// Whether templates follow.
    pub(super) has_templates: bool,
    /// What can hurt someone.
    pub(super) cautions: Vec<Caution>,
    /// The rows of the index.
    pub(super) index: &'a [IndexRow],
    /// For which printer the page is corrected, if for any.
    pub(super) correction: Option<&'a str>,
}

/// A check sheet.
pub(super) struct CheckSheet {
    /// The page.
    pub(super) sheet: PaperSheet,
    /// How many rows of the index it took.
    pub(super) taken: usize,
}

/// The page.
pub(super) fn draw(format: PageFormat, text: &CheckSheetText) -> CheckSheet {
    let printable = format.printable();
    let (mut items, names) = bars(printable);
    let inside = room(format);
    let at = Point::new(inside.min.x, inside.max.y - 6.0);
    let title = TextLine::new(at, 6.0, "CHECK SHEET").bold();
    let part_at = title.at + Point::new(title.width() + 5.0, 0.0);
    let part = TextLine::new(part_at, 6.0, &text.title)
        .bold()
        .fitted(inside.max.x - part_at.x);
    items.extend([title, part].map(|text| Item::text(Role::Frame, text)));

    let below = |y: f64| Bounds::new(inside.min, Point::new(inside.max.x, y));
    let facts = text.facts.iter().map(String::as_str);
    let (lines, y) = lines_down(below(inside.max.y - 8.0), LABEL, facts);
    items.extend(lines);
    let work: &[&str] = if text.has_templates { &WORK } else { &[] };
    let steps: Vec<CardLine> = PRINT
        .iter()
        .chain(work)
        .enumerate()
        .map(|(index, step)| CardLine::Plain(format!("{}. {step}", index + 1)))
        .collect();
    let steps = Card::of_words(&steps, inside.width());
    let y = y - 2.0 - steps.size.1;
    items.extend(steps.at(Point::new(inside.min.x, y)));
    let y = y - 3.0 - CARD.1;
    items.extend(card_outline(Point::new(inside.min.x, y)));
    let beside = Bounds::new(
        Point::new(inside.min.x + CARD.0 + BESIDE_CARD, y),
        Point::new(inside.max.x, y + CARD.1),
    );
    items.extend(measured(beside, &names, text));
    let mut y = y - 2.0;
    if text.has_templates {
        let (lines, now) = legend::draw(below(y));
        items.extend(lines);
        y = now - 2.0;
    }
    if !text.cautions.is_empty() {
        let mut lines = vec![CardLine::Bold("cautions".to_owned())];
        let said = sentences(&text.cautions).into_iter();
        lines.extend(said.map(|words| CardLine::Plain(words.to_owned())));
        let card = Card::of_words_at(&lines, inside.width(), SMALL);
        y -= card.size.1;
        items.extend(card.at(Point::new(inside.min.x, y)));
        y -= 2.0;
    }
    let (lines, taken) = index::fill(below(y), text.index);
    items.extend(lines);
    CheckSheet {
        sheet: PaperSheet {
            format,
            items,
            viewports: Vec::new(),
        },
        taken,
    }
}

/// The part of the page between the bars.
pub(super) fn room(format: PageFormat) -> Bounds {
    let printable = format.printable();
    Bounds::new(
        printable.min + Point::new(BARS + 2.0, BARS + 2.0),
        printable.max - Point::new(INCH_BAR, 0.0),
    )
}

/// Long bars, one unit to a bar: millimetres along the lower and the left side, inches inside them and along the right
/// side. Gives them, and of each its length in words and its unit.
fn bars(printable: Bounds) -> (Vec<Item>, Vec<(String, &'static str)>) {
    let mut items = Vec::new();
    let mut names = Vec::new();
    let (min, max) = (printable.min, printable.max);
    let inches = LONG_BARS_INCHES.map(|count| count * MM_PER_INCH);
    for (from, step, longest, turn) in [
        (min + Point::new(2.5, 2.5), 10.0, LONG_BARS[0], Turn::Level),
        (min + Point::new(2.5, 2.5), 10.0, LONG_BARS[1], Turn::Up),
        (
            min + Point::new(5.5, 10.5),
            MM_PER_INCH,
            inches[0],
            Turn::Level,
        ),
        (
            Point::new(max.x - 4.5, min.y + 17.0),
            MM_PER_INCH,
            inches[1],
            Turn::Up,
        ),
    ] {
        let room = match turn {
            Turn::Level => max.x - from.x,
            Turn::Up => max.y - from.y,
        };
        // On smaller paper a bar gives up whole steps rather than run over.
        let steps = (longest.min(room) / step + 1e-9).floor();
        let (length, unit) = if step < MM_PER_INCH {
            (steps * step, "mm")
        } else {
            (steps, "in")
        };
        let words = format!("{length} {unit}");
        items.extend(long_bar(from, steps * step, step, turn, &words));
        names.push((words, unit));
    }
    (items, names)
}

/// The outline of a card that everybody has.
fn card_outline(corner: Point) -> Vec<Item> {
    let (width, height, radius) = CARD;
    let bounds = Bounds::new(corner, corner + Point::new(width, height));
    let outline = Item::stroke(
        Role::CheckBar,
        rounded_rectangle(bounds, radius),
        Pen::new(0.2, Ink::BLACK),
    );
    let words = [
        "Lay a bank or library card here:",
        "it fills the outline (ISO/IEC 7810 ID-1,",
        "85.60 × 53.98 mm) on every side alike.",
    ];
    let lines = words.map(|words| CardLine::Plain(words.to_owned()));
    let card = Card::of_words(&lines, width - 12.0);
    let at = bounds.centre() - Point::new(card.size.0 / 2.0, card.size.1 / 2.0);
    std::iter::once(outline).chain(card.at(at)).collect()
}

/// Room to write down what was measured, and what to expect of it.
fn measured(inside: Bounds, bars: &[(String, &str)], text: &CheckSheetText) -> Vec<Item> {
    let mut lines = vec![CardLine::Bold("what your rule says".to_owned())];
    for (bar, unit) in bars {
        lines.push(CardLine::Tick(format!("{bar} bar: __________ {unit}")));
    }
    // Read to a quarter of a millimetre on 180: 0.25 / 180 = 0.14 %. Half a millimetre let pass: 0.28 %.
    let expected = if text.correction.is_some() {
        "Expected error of a corrected print: 0.15 mm in 100 mm, and 0.3 mm more across each taped seam."
    } else {
        "Expected error with bars right to 0.5 mm: 0.3 mm in 100 mm, and 0.3 mm more across each taped seam."
    };
    lines.push(CardLine::Plain(expected.to_owned()));
    if let Some(correction) = text.correction {
        lines.push(CardLine::Bold(correction.to_owned()));
    } else if !text.has_templates {
        let words = "jigless print-check --printer NAME --measured 180.0,250.0 stores what the mm bars measure: \
                     the level one, and the upright one, which lies along the feed.";
        lines.push(CardLine::Plain(words.to_owned()));
    }
    let card = Card::of_words(&lines, inside.width());
    let at = Point::new(inside.min.x, inside.max.y - card.size.1);
    card.at(at).collect()
}
