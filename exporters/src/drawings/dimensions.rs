//! Lengths with their lines (ISO 129-1): overall, and running from one origin.

use jigless_model::geom::{Bounds, Path, Point};

use crate::drawing::measure::Lengths;
use crate::drawing::{Anchor, Ink, Item, Pen, Role, TextLine, Turn};

/// Size of figures, in millimetres.
pub(super) const FIGURES: f64 = 2.8;
/// Extension lines begin so far from the outline, and go so far beyond the dimension line, in millimetres.
const CLEAR: f64 = 1.0;
const BEYOND: f64 = 1.5;
const PEN: Pen = Pen::new(0.18, Ink::BLACK);

/// Which way a row of dimensions runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Along {
    /// From left to right; the row lies below the view.
    Across,
    /// Upward; the row lies to the left of the view.
    Upward,
}

impl Along {
    /// A point at a place along and a distance from the view.
    fn point(self, view: Bounds, at: f64, away: f64) -> Point {
        match self {
            Along::Across => Point::new(at, view.min.y - away),
            Along::Upward => Point::new(view.min.x - away, at),
        }
    }
}

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

/// The whole length of a view, its line so far away from it.
pub(super) fn overall(
    along: Along,
    view: Bounds,
    mm: f64,
    away: f64,
    lengths: Lengths,
) -> Vec<Item> {
    let (from, to) = match along {
        Along::Across => (view.min.x, view.max.x),
        Along::Upward => (view.min.y, view.max.y),
    };
    let [a, b] = [from, to].map(|at| along.point(view, at, away));
    let mut items = vec![line(a, b), tick(a), tick(b)];
    for at in [from, to] {
        items.push(line(
            along.point(view, at, CLEAR),
            along.point(view, at, away + BEYOND),
        ));
    }
    let middle = a.toward(b, 0.5);
    let words = lengths.bare(mm);
    let text = match along {
        Along::Across => TextLine::new(middle + Point::new(0.0, 1.0), FIGURES, &words),
        Along::Upward => {
            TextLine::new(middle - Point::new(1.0, 0.0), FIGURES, &words).turned(Turn::Up)
        }
    };
    items.push(Item::text(Role::Dimension, text.anchored(Anchor::Middle)));
    items
}

/// Places measured from one origin: a circle at the origin, a stroke and a figure at each place. Figures that would lie on
/// each other are moved apart, with a line to their stroke.
pub(super) fn running(
    along: Along,
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
    let on_line = |at: f64| along.point(view, at, away);
    let mut items = vec![
        line(on_line(origin), on_line(last.0)),
        line(along.point(view, origin, CLEAR), on_line(origin)),
        Item::stroke(
            Role::Dimension,
            jigless_model::geom::circle(on_line(origin), 0.8),
            PEN,
        ),
    ];
    let step = FIGURES * 1.25;
    let spread = spread(
        &places.iter().map(|(at, _)| *at).collect::<Vec<f64>>(),
        step,
        if last.0 > origin {
            origin + step
        } else {
            f64::NEG_INFINITY
        },
    );
    for ((at, mm), shown) in places.iter().zip(spread) {
        items.push(line(
            along.point(view, *at, CLEAR),
            along.point(view, *at, away + BEYOND),
        ));
        let knee = [
            along.point(view, *at, away + BEYOND),
            along.point(view, shown, away + BEYOND + 2.0),
            along.point(view, shown, away + BEYOND + 3.0),
        ];
        items.push(Item::stroke(
            Role::Dimension,
            Path::of_points(knee, false),
            PEN,
        ));
        let half = 0.36 * FIGURES;
        let words = lengths.bare(*mm);
        let text = match along {
            Along::Across => {
                let at = along.point(view, shown, away + BEYOND + 3.6) + Point::new(half, 0.0);
                TextLine::new(at, FIGURES, &words)
                    .turned(Turn::Up)
                    .anchored(Anchor::End)
            }
            Along::Upward => {
                let at = along.point(view, shown, away + BEYOND + 3.6) - Point::new(0.0, half);
                TextLine::new(at, FIGURES, &words).anchored(Anchor::End)
            }
        };
        items.push(Item::text(Role::Dimension, text));
    }
    items
}

/// Places as near as they can be to those wanted, none nearer than `step` to the next, none below `least`: neighbours that
/// crowd are shifted together about their middle.
fn spread(wanted: &[f64], step: f64, least: f64) -> Vec<f64> {
    // Runs of places with their middle, each as long as its places need.
    let mut runs: Vec<(f64, usize)> = Vec::new();
    let begin = |run: (f64, usize)| run.0 - step * (run.1 as f64 - 1.0) / 2.0;
    let end = |run: (f64, usize)| run.0 + step * (run.1 as f64 - 1.0) / 2.0;
    for at in wanted {
        let mut run = (*at, 1);
        loop {
            if begin(run) < least {
                run.0 += least - begin(run);
            }
            match runs.last() {
                Some(before) if begin(run) - end(*before) < step => {
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
pub(super) fn running_room(places: &[(f64, f64)], lengths: Lengths) -> f64 {
    let widths = places
        .iter()
        .map(|(_, mm)| TextLine::new(Point::default(), FIGURES, &lengths.bare(*mm)).width());
    BEYOND + 4.5 + widths.fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_that_crowd_are_moved_apart() {
        let placed = spread(&[10.0, 10.5, 11.0, 40.0], 3.0, 0.0);
        assert_eq!(placed, [7.5, 10.5, 13.5, 40.0]);
        let low = spread(&[0.5, 1.0], 3.0, 2.0);
        assert_eq!(low, [2.0, 5.0]);
        for pair in spread(&[1.0, 2.0, 2.5, 6.0, 6.1, 7.0], 2.0, 1.0).windows(2) {
            assert!(pair[1] - pair[0] >= 2.0 - 1e-9);
        }
    }
}
