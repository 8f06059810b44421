//! Arranging by true outlines, on a grid of cells.
//!
//! Each outline, grown by half the spacing, takes every cell that it touches, so that pieces whose cells differ keep
//! their distance whatever their shape. A piece goes to the lowest, then leftmost place where all its cells are free.

use jigless_model::geom::{Path, Point};

use super::{Arranger, FreeArea, Piece, Position};

/// How many cells the shorter side of a sheet is divided into. Finer cells waste less room and take more time.
const CELLS: f64 = 640.0;

/// How far the straight pieces that stand for an arc may lie from it, in millimetres. Outlines are grown by as much.
const CHORD_ERROR: f64 = 0.01;

/// Arranges true outlines.
#[derive(Debug, Clone, Copy)]
pub struct Outlines;

impl Arranger for Outlines {
    /// Boxes are arranged better without cells, so this one is for pieces that leave much of their box empty.
    fn suits(&self, pieces: &[Piece]) -> bool {
        pieces.iter().any(|piece| {
            let bounds = piece.outline.bounds();
            bounds.is_some_and(|b| piece.area < 0.85 * b.width() * b.height())
        })
    }

    fn fill(&self, room: FreeArea, pieces: &[&Piece]) -> Vec<Position> {
        let half = room.spacing / 2.0 + CHORD_ERROR;
        let bounds = room.bounds.grown(half);
        let cell = (bounds.width().min(bounds.height()) / CELLS).max(0.1);
        let mut sheet = Grid::new(
            (bounds.width() / cell).floor() as usize,
            (bounds.height() / cell).floor() as usize,
        );
        let mut places = Vec::new();
        // Of the kind last seen: its masks, and the row below which it has no place.
        let mut last: Option<(usize, Vec<Mask>, usize)> = None;
        for (index, piece) in pieces.iter().enumerate() {
            let (masks, from) = match last.take() {
                Some((kind, masks, from)) if kind == piece.kind => (masks, from),
                _ => (masks_of(piece, half, cell), 0),
            };
            let found = masks
                .iter()
                .filter_map(|mask| Some((sheet.lowest(mask, from)?, mask)))
                .min_by_key(|((x, y), mask)| (y + mask.rows.len(), *x));
            let Some(((x, y), mask)) = found else {
                last = Some((piece.kind, masks, usize::MAX));
                continue;
            };
            sheet.take(mask, x, y);
            let corner = Point::new(x as f64 * cell, y as f64 * cell);
            places.push(Position {
                piece: index,
                quarters: mask.quarters,
                at: bounds.min + corner - mask.origin,
            });
            // Another turn may still fit lower than this one, so only what lies below all of them is closed.
            let from = masks
                .iter()
                .filter_map(|mask| sheet.lowest(mask, from))
                .map(|(_, y)| y)
                .min()
                .unwrap_or(usize::MAX);
            last = Some((piece.kind, masks, from));
        }
        places
    }
}

/// The cells of a piece in one turn.
struct Mask {
    quarters: u8,
    /// Where the lower left corner of the cells lies, as seen from the piece's own 0,0.
    origin: Point,
    /// For each row, from the lowest: first and last cell of each run.
    rows: Vec<Vec<(usize, usize)>>,
    /// The longest run of all.
    longest: usize,
    /// The row that it is in.
    longest_row: usize,
    width: usize,
}

fn masks_of(piece: &Piece, half: f64, cell: f64) -> Vec<Mask> {
    let grown = piece.outline.parallels(half);
    let Some(grown) = grown.first() else {
        return Vec::new();
    };
    let mut masks: Vec<Mask> = Vec::new();
    for &quarters in piece.turns {
        let mask = mask_of(&grown.turned(quarters), quarters, cell);
        if masks.iter().all(|other| other.rows != mask.rows) {
            masks.push(mask);
        }
    }
    masks
}

fn mask_of(outline: &Path, quarters: u8, cell: f64) -> Mask {
    let points = outline.flattened(CHORD_ERROR);
    let low = |of: fn(&Point) -> f64| points.iter().map(of).fold(f64::INFINITY, f64::min);
    let high = |of: fn(&Point) -> f64| points.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
    let origin = Point::new(low(|p| p.x), low(|p| p.y));
    let count = ((high(|p| p.y) - origin.y) / cell).ceil().max(1.0) as usize;
    let rows: Vec<Vec<(usize, usize)>> = (0..count)
        .map(|row| {
            let bottom = origin.y + row as f64 * cell;
            let covered = covered(&points, bottom, bottom + cell);
            let cells = covered.into_iter().map(|(from, to)| {
                let first = ((from - origin.x) / cell).floor().max(0.0) as usize;
                let past = ((to - origin.x) / cell).ceil() as usize;
                (first, past.max(first + 1) - 1)
            });
            joined(cells)
        })
        .collect();
    let runs = || {
        rows.iter()
            .enumerate()
            .flat_map(|(row, runs)| runs.iter().map(move |run| (row, run)))
    };
    let (longest_row, longest) = runs()
        .map(|(row, (first, last))| (row, last + 1 - first))
        .max_by_key(|(row, length)| (*length, std::cmp::Reverse(*row)))
        .unwrap_or((0, 0));
    Mask {
        quarters,
        origin,
        width: runs().map(|(_, (_, last))| last + 1).max().unwrap_or(0),
        rows,
        longest,
        longest_row,
    }
}

/// What a closed run of points covers between two heights: whatever of it lies there can be followed upward or downward
/// to one of the two heights or to a side, so these three together are all.
fn covered(points: &[Point], bottom: f64, top: f64) -> Vec<(f64, f64)> {
    let sides = || (0..points.len()).map(|i| (points[i], points[(i + 1) % points.len()]));
    let mut found: Vec<(f64, f64)> = Vec::new();
    for height in [bottom, top] {
        let mut crossings: Vec<f64> = sides()
            .filter(|(a, b)| (a.y <= height) != (b.y <= height))
            .map(|(a, b)| a.x + (b.x - a.x) * (height - a.y) / (b.y - a.y))
            .collect();
        crossings.sort_by(f64::total_cmp);
        found.extend(crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])));
    }
    for (a, b) in sides() {
        let (low, high) = if a.y <= b.y { (a, b) } else { (b, a) };
        if high.y < bottom || low.y > top {
            continue;
        }
        let at = |height: f64| {
            let share = (height - low.y) / (high.y - low.y);
            low.x + (high.x - low.x) * share.clamp(0.0, 1.0)
        };
        let (from, to) = if high.y > low.y {
            (at(bottom.max(low.y)), at(top.min(high.y)))
        } else {
            (low.x, high.x)
        };
        found.push((from.min(to), from.max(to)));
    }
    found
}

/// Runs of cells in order, those that touch made one.
fn joined(runs: impl Iterator<Item = (usize, usize)>) -> Vec<(usize, usize)> {
    let mut runs: Vec<(usize, usize)> = runs.collect();
    runs.sort_unstable();
    let mut joined: Vec<(usize, usize)> = Vec::new();
    for (first, last) in runs {
        match joined.last_mut() {
            Some((_, end)) if first <= *end + 1 => *end = (*end).max(last),
            _ => joined.push((first, last)),
        }
    }
    joined
}

/// The cells of a sheet.
struct Grid {
    width: usize,
    height: usize,
    words: usize,
    taken: Vec<u64>,
    /// The longest free run of each row.
    longest_free: Vec<usize>,
}

impl Grid {
    fn new(width: usize, height: usize) -> Self {
        let words = width.div_ceil(64);
        Self {
            width,
            height,
            words,
            taken: vec![0; words * height],
            longest_free: vec![width; height],
        }
    }

    /// The lowest, then leftmost cell at which a mask can stand, from a row on.
    fn lowest(&self, mask: &Mask, from: usize) -> Option<(usize, usize)> {
        let rows = mask.rows.len();
        if mask.width > self.width || rows > self.height {
            return None;
        }
        let mut y = from;
        while y <= self.height - rows {
            let has_room = self.longest_free[y + mask.longest_row] >= mask.longest;
            if let Some(x) = has_room.then(|| self.leftmost(mask, y)).flatten() {
                return Some((x, y));
            }
            y += 1;
        }
        None
    }

    fn leftmost(&self, mask: &Mask, y: usize) -> Option<usize> {
        let mut x = 0;
        // The row that was in the way last is most likely in the way again.
        let mut first_row = mask.longest_row;
        'places: while x + mask.width <= self.width {
            for step in 0..mask.rows.len() {
                let row = (first_row + step) % mask.rows.len();
                for &(first, last) in &mask.rows[row] {
                    if let Some(hit) = self.last_taken(y + row, x + first, x + last) {
                        // This run must pass the cell that is in its way.
                        x = hit + 1 - first;
                        first_row = row;
                        continue 'places;
                    }
                }
            }
            return Some(x);
        }
        None
    }

    /// The last cell of a row that is taken, from one cell to another.
    fn last_taken(&self, row: usize, first: usize, last: usize) -> Option<usize> {
        let row = &self.taken[row * self.words..(row + 1) * self.words];
        let (low, high) = (first / 64, last / 64);
        for word in (low..=high).rev() {
            let mut bits = row[word];
            if word == high {
                bits &= u64::MAX >> (63 - last % 64);
            }
            if word == low {
                bits &= u64::MAX << (first % 64);
            }
            if bits != 0 {
                return Some(word * 64 + 63 - bits.leading_zeros() as usize);
            }
        }
        None
    }

    fn take(&mut self, mask: &Mask, x: usize, y: usize) {
        for (row, runs) in mask.rows.iter().enumerate() {
            let row = y + row;
            for &(first, last) in runs {
                for cell in x + first..=x + last {
                    self.taken[row * self.words + cell / 64] |= 1 << (cell % 64);
                }
            }
            self.longest_free[row] = self.longest_free_of(row);
        }
    }

    fn longest_free_of(&self, row: usize) -> usize {
        let words = &self.taken[row * self.words..(row + 1) * self.words];
        let (mut longest, mut run) = (0, 0);
        for cell in 0..self.width {
            if words[cell / 64] >> (cell % 64) & 1 == 0 {
                run += 1;
                longest = longest.max(run);
            } else {
                run = 0;
            }
        }
        longest
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::Bounds;

    fn path(points: &[(f64, f64)]) -> Path {
        Path::of_points(points.iter().map(|&(x, y)| Point::new(x, y)), true)
    }

    fn fill(outline: &Path, count: usize, size: (f64, f64), spacing: f64) -> Vec<Path> {
        let pieces: Vec<Piece> = (0..count)
            .map(|_| Piece {
                outline,
                openings: &[],
                area: outline.area(),
                turns: &[0, 1, 2, 3],
                kind: 0,
                group: None,
            })
            .collect();
        let room = FreeArea {
            bounds: Bounds::of_size(size.0, size.1),
            spacing,
        };
        let places = Outlines.fill(room, &pieces.iter().collect::<Vec<_>>());
        let at = |p: &Position| outline.turned(p.quarters).moved(p.at);
        places.iter().map(at).collect()
    }

    /// Two right triangles make a square, which boxes never see: two boxes of 100 do not fit side by side into 112.
    #[test]
    fn triangles_share_a_square() {
        let triangle = path(&[(0.0, 0.0), (100.0, 0.0), (0.0, 100.0)]);
        let placed = fill(&triangle, 2, (112.0, 112.0), 2.0);
        assert_eq!(placed.len(), 2);
        for corner in &placed[1].vertices {
            assert!(!placed[0].contains(corner.point));
            assert!(placed[0].distance_to(corner.point) >= 2.0);
            assert!(Bounds::of_size(112.0, 112.0).contains(corner.point, 1e-9));
        }
        for corner in &placed[0].vertices {
            assert!(placed[1].distance_to(corner.point) >= 2.0);
        }
    }

    #[test]
    fn a_ledge_is_filled() {
        let l_shape = path(&[
            (0.0, 0.0),
            (90.0, 0.0),
            (90.0, 30.0),
            (30.0, 30.0),
            (30.0, 90.0),
            (0.0, 90.0),
        ]);
        let placed = fill(&l_shape, 2, (130.0, 130.0), 3.0);
        assert_eq!(placed.len(), 2);
    }

    #[test]
    fn what_does_not_fit_is_left_out() {
        let bar = path(&[(0.0, 0.0), (90.0, 0.0), (90.0, 10.0), (0.0, 10.0)]);
        assert!(fill(&bar, 1, (80.0, 80.0), 0.0).is_empty());
    }
}
