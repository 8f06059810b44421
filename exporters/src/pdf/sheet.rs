//! A page before it is painted, and the frame that every page has: head, check bars and the area between.

use jigless_model::geom::{Bounds, Path, Point, rectangle};
use jigless_model::units::{MM_PER_INCH, Unit};

use super::paper::MARGIN;
use crate::drawing::text::LABEL;
use crate::drawing::{Anchor, Ink, Item, Pen, Role, Text, Turn, font};

/// A page with everything that is on it, in millimetres from its lower left corner.
#[derive(Debug, Clone)]
pub(super) struct Sheet {
    /// Its paper.
    pub(super) leaf: Leaf,
    /// What is on it.
    pub(super) items: Vec<Item>,
    /// Where a part lies on it, if one does.
    pub(super) viewport: Option<Viewport>,
}

/// A sheet of paper, and what has to be drawn longer or shorter so that a printer's stretching comes out even.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Leaf {
    /// Width and height in millimetres.
    pub(super) size: (f64, f64),
    /// What is drawn for each millimetre meant, across and upward on this page.
    pub(super) scale: (f64, f64),
    /// What stays blank at both sides and at both ends beyond the usual border, in millimetres.
    pub(super) blank: (f64, f64),
}

impl Leaf {
    /// The part of the page that may carry ink, in millimetres meant. What is drawn longer about the middle of the page
    /// must still keep off its border.
    pub(super) fn printable(self) -> Bounds {
        let middle = Point::new(self.size.0 / 2.0, self.size.1 / 2.0);
        let border = MARGIN + PEN_ROOM;
        let room = middle - Point::new(border + self.blank.0, border + self.blank.1);
        let half = Point::new(
            room.x / self.scale.0.max(1.0),
            room.y / self.scale.1.max(1.0),
        );
        Bounds::new(middle - half, middle + half)
    }

    /// Where on the page a point is drawn, in millimetres of the file.
    pub(super) fn drawn(self, point: Point) -> Point {
        let along = |at: f64, size: f64, scale: f64| size / 2.0 + (at - size / 2.0) * scale;
        Point::new(
            along(point.x, self.size.0, self.scale.0),
            along(point.y, self.size.1, self.scale.1),
        )
    }
}

/// Where a part lies on a page. It is written into the page for readers that measure.
#[derive(Debug, Clone)]
pub(super) struct Viewport {
    /// Face and name of the page: `front B2`.
    pub(super) name: String,
    /// The box on the page in which the part is drawn, in millimetres.
    pub(super) window: Bounds,
    /// Where the part's 0,0 lies, in millimetres from the page's lower left corner; often outside the page.
    pub(super) origin: Point,
}

/// Middle lines of pens stay this far inside the margin, in millimetres, so that their ink does too.
const PEN_ROOM: f64 = 0.45;
/// Height of the head, in millimetres.
pub(super) const HEAD: f64 = 19.5;
/// Length of the check bars of a page, in millimetres.
const BAR: f64 = 100.0;
/// Length of the check bars of a page in a plan in inches, in inches.
const BAR_INCHES: f64 = 4.0;
/// Room that a check bar takes across, in millimetres.
const BAR_ROOM: f64 = 5.2;

/// The part of a page between its head and its check bars, in which the part is drawn.
pub(super) fn drawing_area(leaf: Leaf, unit: Unit) -> Bounds {
    let printable = leaf.printable();
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

/// The check bars of a page: 100 mm on both axes, and 4 in beside them where the plan is in inches.
pub(super) fn check_bars(leaf: Leaf, unit: Unit) -> Vec<Item> {
    let corner = leaf.printable().min;
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

/// Room that the check bars along the lower edge leave to their right.
pub(super) fn foot_room(leaf: Leaf, unit: Unit) -> Bounds {
    let printable = leaf.printable();
    let from = printable.min.x + bars_room(unit) + 2.0 + BAR_INCHES * MM_PER_INCH + 15.0;
    Bounds::new(
        Point::new(from.min(printable.max.x), printable.min.y),
        Point::new(printable.max.x, printable.min.y + bars_room(unit)),
    )
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
    let text = Text::new(at, LABEL, name).turned(turn);
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
    let text = Text::new(at, LABEL, name)
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
        let text = Text::new(Point::new(inside.min.x, y + 0.3 * size), size, line);
        items.push(Item::text(Role::Frame, text.fitted(inside.width())));
    }
    (items, y)
}

/// A small box to tick.
pub(super) fn tick_box(at: Point, side: f64) -> Item {
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
