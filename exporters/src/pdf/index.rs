//! The index of a plan's parts: how many pieces of each, and the sheets that it needs.

use jigless_model::geom::{Bounds, Point};

use super::page_format::PageFormat;
use super::page_frame;
use super::paper_sheet::PaperSheet;
use crate::drawing::{Anchor, Item, Role, TextLine};

/// Size of the words, in millimetres: 7.5 pt.
const WORDS: f64 = 2.65;
/// From one line to the next, in millimetres.
const STEP: f64 = 3.6;
/// Between two columns, in millimetres.
const GAP: f64 = 6.0;
/// The least width of a column, in millimetres.
const COLUMN: f64 = 66.0;

/// A row of the index.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct IndexRow {
    /// How many pieces, and what the part is called.
    pub(super) part: String,
    /// Its sheets, or what it needs in their place.
    pub(super) sheets: String,
}

/// Fills a box with rows under a heading; gives the items and how many rows were taken.
pub(super) fn fill(inside: Bounds, rows: &[IndexRow]) -> (Vec<Item>, usize) {
    let lines = (inside.height() / STEP).floor().max(0.0) as usize;
    if rows.is_empty() || lines < 3 {
        return (Vec::new(), 0);
    }
    let columns = ((inside.width() + GAP) / (COLUMN + GAP)).floor().max(1.0);
    let width = (inside.width() - GAP * (columns - 1.0)) / columns;
    let columns = columns as usize;
    let most = (lines - 1) * columns;
    let taken = rows.len().min(most);
    let high = taken.div_ceil(columns);
    let line = |x: f64, row: usize| {
        Point::new(
            inside.min.x + x,
            inside.max.y - STEP * (row as f64 + 1.0) + 0.9,
        )
    };
    let heading =
        TextLine::new(line(0.0, 0), WORDS, "parts, and the sheets that each needs").bold();
    let mut items = vec![Item::text(Role::Frame, heading)];
    for (index, row) in rows[..taken].iter().enumerate() {
        let x = (width + GAP) * (index / high) as f64;
        let at = line(x, 1 + index % high);
        let sheets = TextLine::new(at + Point::new(width, 0.0), WORDS, &row.sheets)
            .anchored(Anchor::End)
            .fitted(width * 0.55);
        let part = TextLine::new(at, WORDS, &row.part).fitted(width - sheets.width() - 2.0);
        items.push(Item::text(Role::Frame, part));
        items.push(Item::text(Role::Frame, sheets));
    }
    (items, taken)
}

/// A page of the index from a row on, and how many rows were taken.
pub(super) fn page(format: PageFormat, rows: &[IndexRow]) -> (PaperSheet, usize) {
    let (mut items, taken) = fill(page_frame::below_title(format), rows);
    items.extend(page_frame::title(format, "INDEX", "NOT TO SCALE"));
    let sheet = PaperSheet {
        format,
        items,
        viewports: Vec::new(),
    };
    (sheet, taken)
}

/// Numbers as ranges: `4-6, 9`.
pub(super) fn ranges(numbers: &[usize]) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for number in numbers {
        match runs.last_mut() {
            Some((_, to)) if *to + 1 == *number => *to = *number,
            _ => runs.push((*number, *number)),
        }
    }
    let words = runs.into_iter().map(|(from, to)| match to - from {
        0 => from.to_string(),
        1 => format!("{from}, {to}"),
        _ => format!("{from}-{to}"),
    });
    words.collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::ranges;

    #[test]
    fn numbers_in_a_row_are_a_range() {
        assert_eq!(ranges(&[4, 5, 6, 9, 11, 12]), "4-6, 9, 11, 12");
        assert_eq!(ranges(&[]), "");
    }
}
