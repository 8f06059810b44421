//! Lengths with their lines (ISO 129-1): overall, running from one origin, and in a chain.

use jigless_model::geom::{Bounds, Path, Point};

use crate::drawing::measure::Lengths;
use crate::drawing::{Anchor, Ink, Item, Pen, Role, TextLine, Turn};

/// Size of figures, in millimetres.
pub(super) const FIGURES: f64 = 2.8;
/// Extension lines begin so far from the outline, and go so far beyond the dimension line, in millimetres.
const CLEAR: f64 = 1.0;
const BEYOND: f64 = 1.5;
const PEN: Pen = Pen::new(0.18, Ink::BLACK);

/// Where a row of dimensions lies: beside which side of the view.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RowAt {
    /// Under the view; the row runs from left to right.
    Below,
    /// To its left; the row runs upward.
    Left,
    /// Over it; the row runs from left to right.
    Above,
    /// To its right; the row runs upward.
    Right,
}

impl RowAt {
    /// Whether the row runs from left to right.
    fn is_level(self) -> bool {
        matches!(self, RowAt::Below | RowAt::Above)
    }

    /// The ends of the view along the row.
    fn span(self, view: Bounds) -> (f64, f64) {
        if self.is_level() {
            (view.min.x, view.max.x)
        } else {
            (view.min.y, view.max.y)
        }
    }

    /// A point at a place along and a distance from the view.
    fn point(self, view: Bounds, at: f64, away: f64) -> Point {
        match self {
            RowAt::Below => Point::new(at, view.min.y - away),
            RowAt::Above => Point::new(at, view.max.y + away),
            RowAt::Left => Point::new(view.min.x - away, at),
            RowAt::Right => Point::new(view.max.x + away, at),
        }
    }

    /// A figure on its dimension line.
    fn on_line(self, middle: Point, words: &str) -> Item {
        let text = if self.is_level() {
            TextLine::new(middle + Point::new(0.0, 1.0), FIGURES, words)
        } else {
            TextLine::new(middle - Point::new(1.0, 0.0), FIGURES, words).turned(Turn::Up)
        };
        Item::text(Role::Dimension, text.anchored(Anchor::Middle))
    }

    /// A figure beyond its row, with a line to what it is about: from a place along the row, which is so far away, to where
    /// there is room for it.
    fn beyond(self, view: Bounds, (at, shown): (f64, f64), away: f64, words: &str) -> [Item; 2] {
        let knee = [
            self.point(view, at, away),
            self.point(view, shown, away + 2.0),
            self.point(view, shown, away + 3.0),
        ];
        let half = 0.36 * FIGURES;
        let end = self.point(view, shown, away + 3.6);
        let text = if self.is_level() {
            TextLine::new(end + Point::new(half, 0.0), FIGURES, words).turned(Turn::Up)
        } else {
            TextLine::new(end - Point::new(0.0, half), FIGURES, words)
        };
        let anchor = match self {
            RowAt::Below | RowAt::Left => Anchor::End,
            RowAt::Above | RowAt::Right => Anchor::Start,
        };
        [
            Item::stroke(Role::Dimension, Path::of_points(knee, false), PEN),
            Item::text(Role::Dimension, text.anchored(anchor)),
        ]
    }
}

/// From one figure beyond a row to the next, in millimetres.
const FIGURE_STEP: f64 = FIGURES * 1.25;

fn line(from: Point, to: Point) -> Item {
    Item::line(Role::Dimension, from, to, PEN)
}

/// An oblique stroke where a dimension line ends.
fn tick(at: Point) -> Item {
    let reach = Point::new(0.9, 0.9);
    Item::line(
        Role::Dimension,
        at - reach,
        at + reach,
        Pen::new(0.35, Ink::BLACK),
    )
}

/// The whole length of a view, its line so far away from it; `over` is how far rows reach that lie between.
pub(super) fn overall(
    row: RowAt,
    view: Bounds,
    mm: f64,
    (over, away): (f64, f64),
    lengths: Lengths,
) -> Vec<Item> {
    /// The piece of an extension line that is left beside the view where rows lie between, in millimetres.
    const STUB: f64 = 3.0;
    let (from, to) = row.span(view);
    let [a, b] = [from, to].map(|at| row.point(view, at, away));
    let mut items = vec![line(a, b), tick(a), tick(b)];
    for at in [from, to] {
        let far = away + BEYOND;
        // Figures of those rows may lie where the line would go on.
        let pieces = if over > 0.0 {
            vec![(CLEAR, CLEAR + STUB), (over, far)]
        } else {
            vec![(CLEAR, far)]
        };
        let piece = |(near, far)| line(row.point(view, at, near), row.point(view, at, far));
        items.extend(pieces.into_iter().map(piece));
    }
    items.push(row.on_line(a.toward(b, 0.5), &lengths.bare(mm)));
    items
}

/// Where the figures of places go: in their order, beside their places as nearly as there is room.
pub(super) fn figures_at(row: RowAt, view: Bounds, origin: f64, places: &[f64]) -> Vec<f64> {
    let (low, high) = row.span(view);
    let (least, most) = if origin - low < high - origin {
        (origin + FIGURE_STEP, high)
    } else {
        (low, origin - FIGURE_STEP)
    };
    spread(places, FIGURE_STEP, (least, most))
}

/// Places measured from one origin: a circle at the origin, a stroke and a figure at each place. Figures that would lie on
/// each other are moved apart, with a line to their stroke.
pub(super) fn running(
    row: RowAt,
    view: Bounds,
    origin: f64,
    places: &[(f64, f64)],
    away: f64,
    lengths: Lengths,
) -> Vec<Item> {
    let far = |place: &&(f64, f64)| (place.0 - origin).abs();
    let Some(last) = places.iter().max_by(|a, b| far(a).total_cmp(&far(b))) else {
        return Vec::new();
    };
    let on_line = |at: f64| row.point(view, at, away);
    let mut items = vec![
        line(on_line(origin), on_line(last.0)),
        line(row.point(view, origin, CLEAR), on_line(origin)),
        Item::stroke(
            Role::Dimension,
            jigless_model::geom::circle(on_line(origin), 0.8),
            PEN,
        ),
    ];
    let along: Vec<f64> = places.iter().map(|(at, _)| *at).collect();
    let shown = figures_at(row, view, origin, &along);
    for ((at, mm), shown) in places.iter().zip(shown) {
        items.push(line(
            row.point(view, *at, CLEAR),
            row.point(view, *at, away + BEYOND),
        ));
        let words = lengths.bare(*mm);
        items.extend(row.beyond(view, (*at, shown), away + BEYOND, &words));
    }
    items
}

/// Lengths one after the other on one line, each between two strokes; from and to along the row, and what it measures. A
/// figure that its length has no room for goes beyond the row.
pub(super) fn chain(
    row: RowAt,
    view: Bounds,
    pieces: &[(f64, f64, f64)],
    away: f64,
    lengths: Lengths,
) -> Vec<Item> {
    let mut items = Vec::new();
    let narrow: Vec<f64> = pieces
        .iter()
        .filter(|piece| !is_wide(piece, lengths))
        .map(|(from, to, _)| f64::midpoint(*from, *to))
        .collect();
    let mut beyond = spread(&narrow, FIGURE_STEP, row.span(view)).into_iter();
    for piece in pieces {
        let (from, to, mm) = *piece;
        let [a, b] = [from, to].map(|at| row.point(view, at, away));
        items.extend([line(a, b), tick(a), tick(b)]);
        for at in [from, to] {
            items.push(line(
                row.point(view, at, CLEAR),
                row.point(view, at, away + BEYOND),
            ));
        }
        let (middle, words) = (f64::midpoint(from, to), lengths.bare(mm));
        if is_wide(piece, lengths) {
            items.push(row.on_line(row.point(view, middle, away), &words));
        } else if let Some(shown) = beyond.next() {
            items.extend(row.beyond(view, (middle, shown), away + BEYOND, &words));
        }
    }
    items
}

/// Whether a piece of a chain has room for its figure, between two ticks.
fn is_wide(&(from, to, mm): &(f64, f64, f64), lengths: Lengths) -> bool {
    width(mm, lengths) + 2.4 < (to - from).abs()
}

fn width(mm: f64, lengths: Lengths) -> f64 {
    TextLine::new(Point::default(), FIGURES, &lengths.bare(mm)).width()
}

/// Room that a chain takes beyond its line, in millimetres.
pub(super) fn chain_room(pieces: &[(f64, f64, f64)], lengths: Lengths) -> f64 {
    let narrow = pieces.iter().filter(|piece| !is_wide(piece, lengths));
    let widest = narrow.map(|(.., mm)| width(*mm, lengths)).reduce(f64::max);
    BEYOND + widest.map_or(0.0, |widest| widest + 4.5)
}

/// Places as near as they can be to those wanted, none nearer than `step` to the next, none outside of the ends: neighbours
/// that crowd are shifted together about their middle. Where there is no room for all of them, the far end gives way.
fn spread(wanted: &[f64], step: f64, (least, most): (f64, f64)) -> Vec<f64> {
    // Runs of places with their middle, each as long as its places need.
    let mut runs: Vec<(f64, usize)> = Vec::new();
    let half = |run: (f64, usize)| step * (run.1 as f64 - 1.0) / 2.0;
    let begin = |run: (f64, usize)| run.0 - half(run);
    let end = |run: (f64, usize)| run.0 + half(run);
    for at in wanted {
        let mut run = (*at, 1);
        loop {
            run.0 = run.0.min(most - half(run)).max(least + half(run));
            match runs.last() {
                Some(before) if begin(run) - end(*before) < step - 1e-9 => {
                    let before = runs.pop().unwrap_or(run);
                    let count = before.1 + run.1;
                    let middle = before.0 * before.1 as f64 + run.0 * run.1 as f64;
                    run = (middle / count as f64, count);
                }
                _ => break,
            }
        }
        runs.push(run);
    }
    runs.into_iter()
        .flat_map(|run| (0..run.1).map(move |i| begin(run) + step * i as f64))
        .collect()
}

/// Room that a running row takes beyond its line, in millimetres.
pub(super) fn running_room(places: &[f64], lengths: Lengths) -> f64 {
    let widths = places.iter().map(|mm| width(*mm, lengths));
    BEYOND + 4.5 + widths.fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_that_crowd_are_moved_apart() {
        let ends = (0.0, 50.0);
        let placed = spread(&[10.0, 10.5, 11.0, 40.0], 3.0, ends);
        assert_eq!(placed, [7.5, 10.5, 13.5, 40.0]);
        let low = spread(&[0.5, 1.0], 3.0, (2.0, 50.0));
        assert_eq!(low, [2.0, 5.0]);
        let high = spread(&[30.0, 47.0, 49.0, 49.5], 3.0, ends);
        assert_eq!(high, [30.0, 44.0, 47.0, 50.0]);
        // Six take 15 mm, where there are ten: the far end gives way.
        let crowd = spread(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0], 3.0, (0.0, 10.0));
        assert_eq!(crowd, [0.0, 3.0, 6.0, 9.0, 12.0, 15.0]);
        for pair in spread(&[1.0, 2.0, 2.5, 6.0, 6.1, 7.0], 2.0, (1.0, 90.0)).windows(2) {
            assert!(pair[1] - pair[0] >= 2.0 - 1e-9);
        }
    }

    /// A chain of 280.5 and 18 mm at 1:10: 28 mm hold their figure, 1.8 mm do not.
    #[test]
    fn figures_of_a_chain_lie_on_it_or_beyond_it() {
        let lengths = Lengths::on_paper(
            jigless_model::units::Unit::Millimetre,
            crate::drawing::measure::PaperUnits::Plan,
            64,
        );
        let view = Bounds::of_size(50.0, 90.0);
        let pieces = [(0.0, 28.05, 280.5), (30.0, 31.8, 18.0)];
        let items = chain(RowAt::Left, view, &pieces, 8.0, lengths);
        let found: Vec<(String, bool)> = items
            .iter()
            .filter_map(|item| match &item.shape {
                crate::drawing::ItemShape::Text(text) => Some((
                    text.words.clone(),
                    text.bounds().max.x > view.min.x - 8.0 - 1.5,
                )),
                _ => None,
            })
            .collect();
        let wanted = [("280.5", true), ("18", false)].map(|(w, near)| (w.to_owned(), near));
        assert_eq!(found, wanted);
        assert!(chain_room(&pieces, lengths) > chain_room(&pieces[..1], lengths));
    }
}
