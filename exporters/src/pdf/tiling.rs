//! Splitting a drawing over pages, with the seams where they do least harm.

use jigless_model::geom::{Bounds, Point};

/// No hole centre comes nearer to a seam than this, in millimetres, where that can be had.
const CLEAR: f64 = 10.0;
/// At most so many places are tried for one seam.
const TRIES: f64 = 400.0;

/// How a drawing is split: the borders of its columns and rows, in drawing coordinates, and the overlap.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tiling {
    /// From left to right; the first and last are the ends of the drawing.
    pub(super) columns: Vec<f64>,
    /// From the bottom upward.
    pub(super) rows: Vec<f64>,
    /// How far a page goes on beyond a seam, in millimetres.
    pub(super) overlap: f64,
}

/// One page of a tiling.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tile {
    /// Column from 0.
    pub(super) column: usize,
    /// Row from 0.
    pub(super) row: usize,
    /// The share of the drawing that is this page's own.
    pub(super) core: Bounds,
    /// What is drawn on it: its own share and the overlap.
    pub(super) window: Bounds,
}

impl Tiling {
    /// The fewest pages whose drawing area is `room` (width, height in mm) that hold a drawing.
    pub(super) fn new(extent: Bounds, room: (f64, f64), overlap: f64, holes: &[Point]) -> Self {
        let mut xs: Vec<f64> = holes.iter().map(|p| p.x).collect();
        let mut ys: Vec<f64> = holes.iter().map(|p| p.y).collect();
        xs.sort_by(f64::total_cmp);
        ys.sort_by(f64::total_cmp);
        Self {
            columns: borders(extent.min.x, extent.max.x, room.0, overlap, &xs),
            rows: borders(extent.min.y, extent.max.y, room.1, overlap, &ys),
            overlap,
        }
    }

    /// Every page, row by row from the bottom.
    pub(super) fn tiles(&self) -> impl Iterator<Item = Tile> + '_ {
        let (columns, rows) = (self.columns.len() - 1, self.rows.len() - 1);
        (0..rows).flat_map(move |row| (0..columns).map(move |column| self.tile(column, row)))
    }

    fn tile(&self, column: usize, row: usize) -> Tile {
        let span = |borders: &[f64], index: usize| {
            let (from, to) = (borders[index], borders[index + 1]);
            let before = if index > 0 { self.overlap } else { 0.0 };
            let after = if index + 2 < borders.len() {
                self.overlap
            } else {
                0.0
            };
            ((from, to), (from - before, to + after))
        };
        let (x, wide_x) = span(&self.columns, column);
        let (y, wide_y) = span(&self.rows, row);
        let bounds =
            |x: (f64, f64), y: (f64, f64)| Bounds::new(Point::new(x.0, y.0), Point::new(x.1, y.1));
        Tile {
            column,
            row,
            core: bounds(x, y),
            window: bounds(wide_x, wide_y),
        }
    }
}

impl Tile {
    /// Its name: a letter for the column from the left, a number for the row from the bottom.
    pub(super) fn name(&self) -> String {
        name(self.column, self.row)
    }
}

/// The name of the page in a column and a row, both from 0: `A1`, `B1`, ... `Z1`, `AA1`.
pub(super) fn name(column: usize, row: usize) -> String {
    let mut letters = String::new();
    let mut rest = column + 1;
    while rest > 0 {
        rest -= 1;
        let letter = u8::try_from(rest % 26).unwrap_or_default();
        letters.insert(0, char::from(b'A' + letter));
        rest /= 26;
    }
    format!("{letters}{}", row + 1)
}

/// The borders of the fewest tiles that cover `from..to`, where a tile takes `room` with its overlaps.
///
/// Of all ways to place that few seams, this is one that has the fewest hole centres within [`CLEAR`] of a seam, and
/// among these the one nearest to even tiles. `holes` is sorted.
fn borders(from: f64, to: f64, room: f64, overlap: f64, holes: &[f64]) -> Vec<f64> {
    let length = to - from;
    if length <= room {
        return vec![from, to];
    }
    // A tile at an end has one seam, one in the middle has two.
    let (end, middle) = (room - overlap, room - 2.0 * overlap);
    let count = 2 + ((length - 2.0 * end) / middle).max(0.0).ceil() as usize;
    let seams = count - 1;
    let slack = 2.0 * end + middle * (count as f64 - 2.0) - length;
    let tries = slack.min(TRIES).floor() as usize + 1;
    let step = if tries > 1 {
        slack / (tries as f64 - 1.0)
    } else {
        0.0
    };
    // The places a seam can have: the farthest it can lie from the start, less some of the slack.
    let place = |seam: usize, back: usize| from + end + middle * seam as f64 - step * back as f64;
    let cost = |seam: usize, back: usize| {
        let at = place(seam, back);
        let first = holes.partition_point(|hole| *hole <= at - CLEAR);
        let last = holes.partition_point(|hole| *hole < at + CLEAR);
        let even = from + length * (seam as f64 + 1.0) / count as f64;
        // Where holes cannot be avoided, the seam at least keeps as far off as it can.
        let near = holes[first..last]
            .iter()
            .map(|hole| 1.0 - (hole - at).abs() / CLEAR);
        (last - first) as f64 * 1000.0 + near.sum::<f64>() * 10.0 + ((at - even) / room).powi(2)
    };
    // Going back by less than the seam before means a longer tile than fits, so `back` never falls from seam to seam.
    let mut best: Vec<f64> = (0..tries).map(|back| cost(0, back)).collect();
    let mut came_from: Vec<Vec<usize>> = Vec::new();
    for seam in 1..seams {
        let mut cheapest = 0;
        let mut from_which = Vec::with_capacity(tries);
        let mut next = Vec::with_capacity(tries);
        for back in 0..tries {
            if best[back] < best[cheapest] {
                cheapest = back;
            }
            from_which.push(cheapest);
            next.push(best[cheapest] + cost(seam, back));
        }
        came_from.push(from_which);
        best = next;
    }
    let mut back = (0..tries)
        .min_by(|a, b| best[*a].total_cmp(&best[*b]))
        .unwrap_or(0);
    let mut borders = vec![to];
    for seam in (0..seams).rev() {
        borders.push(place(seam, back));
        if seam > 0 {
            back = came_from[seam - 1][back];
        }
    }
    borders.push(from);
    borders.reverse();
    borders
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn seams_move_away_from_holes() {
        // Even tiles would put the seam at 150, right through a hole.
        let holes = [150.0];
        let borders = borders(0.0, 300.0, 175.0, 10.0, &holes);
        assert_eq!(borders.len(), 3);
        assert!((borders[1] - 150.0).abs() >= CLEAR, "{borders:?}");
    }

    /// A tile of 155 leaves a seam 10 mm of play, from 135 to 145, and the hole is at 139.
    #[test]
    fn a_seam_that_cannot_avoid_a_hole_keeps_as_far_off_as_it_can() {
        let borders = borders(0.0, 280.0, 155.0, 10.0, &[139.0]);
        assert!((borders[1] - 145.0).abs() < 1e-9, "{borders:?}");
    }

    #[test]
    fn pages_are_named_like_the_cells_of_a_table() {
        assert_eq!(name(0, 0), "A1");
        assert_eq!(name(1, 2), "B3");
        assert_eq!(name(25, 0), "Z1");
        assert_eq!(name(26, 9), "AA10");
        assert_eq!(name(701, 0), "ZZ1");
    }

    proptest! {
        #[test]
        fn tiles_cover_the_drawing_and_fit_the_page(
            length in 1.0..5000.0f64, room in 100.0..400.0f64, overlap in 0.0..15.0f64,
            holes in prop::collection::vec(0.0..5000.0f64, 0..40),
        ) {
            let mut holes = holes;
            holes.sort_by(f64::total_cmp);
            let from = -6.0;
            let borders = borders(from, from + length, room, overlap, &holes);
            let tiles = borders.len() - 1;
            prop_assert!((borders[0] - from).abs() < 1e-12);
            prop_assert!((borders[tiles] - from - length).abs() < 1e-12);
            for (index, pair) in borders.windows(2).enumerate() {
                let seams = usize::from(index > 0) + usize::from(index + 1 < tiles);
                let tile = pair[1] - pair[0] + overlap * seams as f64;
                prop_assert!(pair[1] > pair[0]);
                prop_assert!(tile <= room + 1e-6, "tile {} of {:?} takes {}", index, borders, tile);
            }
        }

        /// One fewer would not hold the drawing.
        #[test]
        fn there_are_no_more_pages_than_needed(length in 1.0..5000.0f64, room in 100.0..400.0f64) {
            let tiles = borders(0.0, length, room, 10.0, &[]).len() - 1;
            let most = |tiles: usize| match tiles {
                0 => 0.0,
                1 => room,
                more => 2.0 * (room - 10.0) + (more as f64 - 2.0) * (room - 20.0),
            };
            prop_assert!(length <= most(tiles) + 1e-6);
            prop_assert!(length > most(tiles - 1) - 1e-6);
        }
    }
}
