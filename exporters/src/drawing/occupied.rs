//! What on the paper is taken, so that labels stay clear of it.

use std::ops::RangeInclusive;

use jigless_model::geom::{Bounds, Path, Point, Segment};

/// Boxes over an area, found quickly by place.
#[derive(Debug)]
pub(super) struct Occupied {
    area: Bounds,
    columns: usize,
    rows: usize,
    /// For each cell, row by row, the last entry of [`Occupied::entries`] about it.
    cells: Vec<Option<u32>>,
    /// How many entries there are about each cell.
    counts: Vec<u16>,
    /// A box that reaches into a cell, and the entry about the same cell before it. One run for all cells: a page has
    /// hundreds of them, most with nothing in them.
    entries: Vec<(Bounds, Option<u32>)>,
}

/// Side of a cell in millimetres: about the size of a label.
const CELL: f64 = 10.0;
/// Slanting lines are boxed in pieces of this length, in millimetres, so that their boxes stay slim.
const PIECE: f64 = 2.0;
/// So many different boxes fill a cell: what little room is between them is not looked for.
const FULL: u16 = 400;
/// How many boxes of a cell are compared with one that is added.
const LOOKED_AT: usize = 64;

impl Occupied {
    /// Nothing taken yet.
    pub(super) fn new(area: Bounds) -> Self {
        let count = |length: f64| ((length / CELL).ceil() as usize).max(1);
        let (columns, rows) = (count(area.width()), count(area.height()));
        Self {
            area,
            columns,
            rows,
            cells: vec![None; columns * rows],
            counts: vec![0; columns * rows],
            entries: Vec::new(),
        }
    }

    /// The whole area.
    pub(super) fn area(&self) -> Bounds {
        self.area
    }

    /// Takes a box. What lies outside the area does not matter, nor what a cell has in it already: of lines that run over
    /// one another by the thousand, one is kept.
    pub(super) fn take(&mut self, taken: Bounds) {
        let Some(inside) = taken.intersection(self.area) else {
            return;
        };
        let (columns, rows) = self.reached(inside);
        for row in rows {
            for column in columns.clone() {
                let cell = self.cell(row, column);
                let part = inside.intersection(cell);
                if part.is_some_and(|part| self.has_taken(row, column, part)) {
                    continue;
                }
                let number = row * self.columns + column;
                self.counts[number] += 1;
                let taken = match self.counts[number] {
                    FULL => cell.union(taken),
                    _ => taken,
                };
                let entry = self.entries.len() as u32;
                let before = self.cells[number].replace(entry);
                self.entries.push((taken, before));
            }
        }
    }

    /// The box of a cell.
    fn cell(&self, row: usize, column: usize) -> Bounds {
        let corner = self.area.min + Point::new(column as f64 * CELL, row as f64 * CELL);
        Bounds::new(corner, corner + Point::new(CELL, CELL))
    }

    /// Whether one of the last boxes in a cell has all of a part of it.
    fn has_taken(&self, row: usize, column: usize, part: Bounds) -> bool {
        let last = self.cells[row * self.columns + column];
        let entry = |number: u32| &self.entries[number as usize];
        let chain = std::iter::successors(last, |number| entry(*number).1);
        let mut boxes = chain.take(LOOKED_AT).map(|number| entry(number).0);
        boxes.any(|taken| taken.contains_box(part, 0.0))
    }

    /// Takes a line along a path, `reach` millimetres to either side.
    pub(super) fn take_path(&mut self, path: &Path, reach: f64) {
        for segment in path.segments() {
            let upright_or_level =
                |a: Point, b: Point| (a.x - b.x).abs() < PIECE || (a.y - b.y).abs() < PIECE;
            let points = match segment {
                Segment::Line(from, to) if upright_or_level(from, to) => {
                    self.take(Bounds::new(from, to).grown(reach));
                    continue;
                }
                Segment::Line(from, to) => {
                    let pieces = (from.distance(to) / PIECE).ceil().max(1.0);
                    (1..=pieces as usize)
                        .map(|i| from.toward(to, i as f64 / pieces))
                        .collect()
                }
                Segment::Arc(arc) => arc.flattened(0.1),
            };
            let mut from = segment.from();
            for to in points {
                self.take(Bounds::new(from, to).grown(reach));
                from = to;
            }
        }
    }

    /// Whether a box lies inside the area and clear of everything taken.
    pub(super) fn is_free(&self, wanted: Bounds) -> bool {
        if !self.area.contains_box(wanted, 1e-9) {
            return false;
        }
        let (columns, rows) = self.reached(wanted);
        for row in rows {
            for column in columns.clone() {
                let mut next = self.cells[row * self.columns + column];
                while let Some(entry) = next {
                    let (taken, before) = &self.entries[entry as usize];
                    if taken.overlaps(wanted, 1e-9) {
                        return false;
                    }
                    next = *before;
                }
            }
        }
        true
    }

    /// The columns and rows of the cells that a box inside the area reaches into.
    fn reached(&self, inside: Bounds) -> (RangeInclusive<usize>, RangeInclusive<usize>) {
        let cell = |offset: f64, count: usize| ((offset / CELL).max(0.0) as usize).min(count - 1);
        let (from, to) = (inside.min - self.area.min, inside.max - self.area.min);
        (
            cell(from.x, self.columns)..=cell(to.x, self.columns),
            cell(from.y, self.rows)..=cell(to.y, self.rows),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Counts of what is kept, so that memory goes by what there is to be seen.
    #[test]
    fn what_is_taken_already_is_kept_once() {
        let mut occupied = Occupied::new(Bounds::of_size(2400.0, 1200.0));
        for number in 0..10_000 {
            let y = f64::from(number % 1100);
            occupied.take(Bounds::new(Point::new(0.0, y), Point::new(2400.0, y + 0.2)));
        }
        // One for each of 1,100 lines in each of 240 columns; two where a line lies on the border of two rows.
        assert!(
            occupied.entries.len() <= 240 * (1100 + 110),
            "{}",
            occupied.entries.len()
        );
        let at = |y: f64| Bounds::new(Point::new(55.0, y), Point::new(75.0, y + 0.5));
        assert!(!occupied.is_free(at(70.1)) && occupied.is_free(at(70.3)));
    }

    #[test]
    fn a_cell_with_hundreds_of_boxes_is_full() {
        let mut occupied = Occupied::new(Bounds::of_size(100.0, 100.0));
        for number in 0..10_000 {
            let at = Point::new(
                f64::from(number % 100) * 0.05,
                f64::from(number / 100) * 0.05,
            );
            occupied.take(Bounds::around(at, 0.01));
        }
        assert_eq!(occupied.entries.len(), usize::from(FULL));
        let at = |x: f64| Bounds::around(Point::new(x, 8.0), 0.4);
        assert!(!occupied.is_free(at(8.0)) && occupied.is_free(at(12.0)));
    }

    #[test]
    fn a_slanting_line_takes_little_more_than_itself() {
        let mut occupied = Occupied::new(Bounds::of_size(100.0, 100.0));
        let line = Path::line(Point::new(0.0, 0.0), Point::new(100.0, 100.0));
        occupied.take_path(&line, 0.2);
        let at = |x: f64, y: f64| Bounds::around(Point::new(x, y), 2.0);
        assert!(!occupied.is_free(at(50.0, 50.0)));
        assert!(!occupied.is_free(at(50.0, 52.0)));
        assert!(occupied.is_free(at(50.0, 60.0)));
        assert!(!occupied.is_free(at(1.0, 60.0)), "reaches out of the area");
    }
}
