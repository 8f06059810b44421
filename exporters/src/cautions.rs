//! Cautions on pages, in pictures and in tables.

use jigless_model::caution::{Caution, short_lines};
use jigless_model::geom::{Bounds, Point};

use crate::drawing::{Item, Role, TextLine};

/// Size of the letters beside other work, in millimetres: a little over 7 pt, the least on our pages.
pub(crate) const SMALL: f64 = 2.5;
/// Size of the letters on a sheet of their own, in millimetres.
pub(crate) const READING: f64 = 3.5;
/// From line to line, in sizes of the letters.
const STEP: f64 = 1.35;

/// What the `desc` of a picture says: every caution, a line each.
pub(crate) fn description(cautions: &[Caution]) -> String {
    short_lines(cautions).join("\n")
}

/// The same in one cell of a table.
pub(crate) fn cell(cautions: &[Caution]) -> String {
    short_lines(cautions).join(" ")
}

/// Height of the small lines, in millimetres.
pub(crate) fn height(cautions: &[Caution]) -> f64 {
    STEP * SMALL * (short_lines(cautions).len() as f64 + 0.6)
}

/// The lines from a place downward, none wider than the room.
pub(crate) fn lines(top_left: Point, room: f64, size: f64, cautions: &[Caution]) -> Vec<Item> {
    let line = |(row, words): (usize, &str)| {
        let at = top_left - Point::new(0.0, STEP * size * (row as f64 + 1.0));
        let text = TextLine::new(at, size, words);
        let text = if row == 0 { text.bold() } else { text };
        Item::text(Role::Frame, text.fitted(room))
    };
    short_lines(cautions)
        .into_iter()
        .enumerate()
        .map(line)
        .collect()
}

/// The lines under a picture, whose paper grows downward for them.
pub(crate) fn under(canvas: &mut Bounds, inset: f64, cautions: &[Caution]) -> Vec<Item> {
    let top_left = Point::new(canvas.min.x + inset, canvas.min.y);
    let room = canvas.width() - 2.0 * inset;
    canvas.min.y -= height(cautions);
    lines(top_left, room, SMALL, cautions)
}
