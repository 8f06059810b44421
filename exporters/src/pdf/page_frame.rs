//! The frame that every page has: head, check bars and the area between.

use jigless_model::geom::{Bounds, Path, Point, rectangle};
use jigless_model::units::{MM_PER_INCH, Unit};

use super::page_format::PageFormat;
use crate::drawing::text::LABEL;
use crate::drawing::{Anchor, Ink, Item, Pen, Role, TextLine, Turn, font};

/// Height of the head, in millimetres.
pub(super) const HEAD: f64 = 27.0;
/// Height of the banner over a template, with the air below it, in millimetres.
pub(super) const BANNER: f64 = 8.6;
/// Size of the title of a page that is not a template, in millimetres.
const TITLE: f64 = 6.0;
/// Length of the check bars of a page, in millimetres.
const BAR: f64 = 100.0;
/// Length of the check bars of a page in a plan in inches, in inches.
const BAR_INCHES: f64 = 4.0;
/// Room that a check bar takes across, in millimetres.
const BAR_ROOM: f64 = 5.2;

/// The part of a page between its head and its check bars, in which the part is drawn.
pub(super) fn drawing_area(format: PageFormat, unit: Unit) -> Bounds {
    let printable = format.printable();
    let bars = bars_room(unit);
    Bounds::new(
        printable.min + Point::new(bars, bars),
        printable.max - Point::new(0.0, HEAD),
    )
}

fn bars_room(unit: Unit) -> f64 {
    match unit {
        Unit::Millimetre => BAR_ROOM,
        Unit::Inch => 2.0 * BAR_ROOM,
    }
}

/// What one template on a page can show, in millimetres across and upward.
pub(super) fn room(format: PageFormat, unit: Unit) -> (f64, f64) {
    let area = drawing_area(format, unit);
    (area.width() - 0.02, area.height() - BANNER - 0.02)
}

/// The check bars of a page: 100 mm on both axes, and 4 in beside them where the plan is in inches.
pub(super) fn check_bars(format: PageFormat, unit: Unit) -> Vec<Item> {
    let corner = format.printable().min;
    let begin = bars_room(unit) + 2.0;
    let mut items = Vec::new();
    let mut add = |row: f64, length: f64, step: f64, name: &str| {
        let off = BAR_ROOM * (row + 0.5);
        for turn in [Turn::Level, Turn::Up] {
            let from = match turn {
                Turn::Level => corner + Point::new(begin, off),
                Turn::Up => corner + Point::new(off, begin),
            };
            items.extend(bar(from, length, step, turn, name));
        }
    };
    add(0.0, BAR, 10.0, "100 mm");
    if unit == Unit::Inch {
        add(1.0, BAR_INCHES * MM_PER_INCH, MM_PER_INCH, "4 in");
    }
    items
}

/// A bar with a stroke at each step and longer ones at its ends.
fn strokes(from: Point, length: f64, step: f64, turn: Turn) -> Vec<Item> {
    let (way, across) = ways(turn);
    let line = |a: Point, b: Point| Item::line(Role::CheckBar, a, b, Pen::THIN);
    let mut items = vec![line(from, from + way * length)];
    let steps = (length / step).round() as usize;
    for index in 0..=steps {
        let at = from + way * (length * index as f64 / steps as f64);
        items.push(if index == 0 || index == steps {
            line(at - across * 2.0, at + across * 2.0)
        } else {
            line(at, at + across * 1.2)
        });
    }
    items
}

/// The way along words, and the way from their feet to their heads.
fn ways(turn: Turn) -> (Point, Point) {
    match turn {
        Turn::Level => (Point::new(1.0, 0.0), Point::new(0.0, 1.0)),
        Turn::Up => (Point::new(0.0, 1.0), Point::new(-1.0, 0.0)),
    }
}

/// A bar with its length in words behind its end.
fn bar(from: Point, length: f64, step: f64, turn: Turn, name: &str) -> Vec<Item> {
    let (way, across) = ways(turn);
    let at = from + way * (length + 1.5) - across * (0.36 * LABEL);
    let text = TextLine::new(at, LABEL, name).turned(turn);
    let mut items = strokes(from, length, step, turn);
    items.push(Item::text(Role::CheckBar, text));
    items
}

/// A bar with its length in words over its end, where there is no room behind it.
pub(super) fn long_bar(from: Point, length: f64, step: f64, turn: Turn, name: &str) -> Vec<Item> {
    let (way, across) = ways(turn);
    // Always on the side of the page's middle: over a level bar, to the right of an upright one.
    let off = match turn {
        Turn::Level => across * 2.2,
        Turn::Up => across * (-1.0 - font::ASCENT * LABEL),
    };
    let at = from + way * (length - 2.5) + off;
    let text = TextLine::new(at, LABEL, name)
        .turned(turn)
        .anchored(Anchor::End);
    let mut items = strokes(from, length, step, turn);
    items.push(Item::text(Role::CheckBar, text));
    items
}

/// A thin frame around a box.
pub(super) fn frame(bounds: Bounds, pen: Pen) -> Item {
    Item::stroke(Role::Frame, rectangle(bounds), pen)
}

/// Lines of words from the top of a box downward, each cut to its width; gives the items and where the next line goes.
pub(super) fn lines_down<'a>(
    inside: Bounds,
    size: f64,
    words: impl IntoIterator<Item = &'a str>,
) -> (Vec<Item>, f64) {
    let step = size * 1.25;
    let mut y = inside.max.y;
    let mut items = Vec::new();
    for line in words {
        y -= step;
        let text = TextLine::new(Point::new(inside.min.x, y + 0.3 * size), size, line);
        items.push(Item::text(Role::Frame, text.fitted(inside.width())));
    }
    (items, y)
}

/// A small box to tick.
pub(crate) fn tick_box(at: Point, side: f64) -> Item {
    frame(
        Bounds::new(at, at + Point::new(side, side)),
        Pen::new(0.15, Ink::BLACK),
    )
}

/// A join mark: an X whose middle lies on a seam.
pub(super) fn join_mark(at: Point) -> Vec<Item> {
    let reach = 3.0;
    [Point::new(reach, reach), Point::new(reach, -reach)]
        .into_iter()
        .map(|arm| Item::stroke(Role::Join, Path::line(at - arm, at + arm), Pen::HAIR))
        .collect()
}

/// A title over a page that is not a template, and at its right end a note in small type.
pub(crate) fn title(format: PageFormat, words: &str, note: &str) -> Vec<Item> {
    let printable = format.printable();
    let down = Point::new(0.0, TITLE);
    let note = TextLine::new(printable.max - down, LABEL, note)
        .anchored(Anchor::End)
        .fitted(printable.width() * 0.6);
    let start = Point::new(printable.min.x, printable.max.y) - down;
    let title = TextLine::new(start, TITLE, words)
        .bold()
        .fitted(printable.width() - note.width() - 4.0);
    vec![
        Item::text(Role::Frame, title),
        Item::text(Role::Frame, note),
    ]
}

/// What a title leaves of a page.
pub(crate) fn below_title(format: PageFormat) -> Bounds {
    let printable = format.printable();
    Bounds::new(printable.min, printable.max - Point::new(0.0, TITLE + 4.0))
}
