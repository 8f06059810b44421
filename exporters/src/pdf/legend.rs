//! What the lines on templates mean (ISO 128: kinds of lines by their use; the widths are our own).

use jigless_model::geom::{Bounds, Point, circle};

use super::card::SMALL;
use super::edges::{BAND, EDGE, SAWN};
use super::registration::PENCIL;
use crate::drawing::mark::cross;
use crate::drawing::{Dash, Ink, Item, Pen, Role, TextLine};

/// Length of a sample, in millimetres.
const SAMPLE: f64 = 16.0;
/// From one line of samples to the next, in millimetres.
const STEP: f64 = 4.6;
/// Samples beside one another.
const COLUMNS: usize = 2;

/// The legend from the top of a box downward; gives the items and where what follows goes.
pub(super) fn draw(inside: Bounds) -> (Vec<Item>, f64) {
    let band = |width: f64| Pen::new(width, Ink::BLACK);
    let kinds: [(&str, Vec<(f64, Pen)>); 6] = [
        (
            "edge: the thin line; band on the waste side",
            vec![(0.0, EDGE), (-(BAND + EDGE.width) / 2.0, band(BAND))],
        ),
        (
            "fold the paper here, over the edge",
            vec![
                (0.0, EDGE),
                (-(BAND + EDGE.width) / 2.0, band(BAND).dashed(Dash::Hidden)),
            ],
        ),
        (
            "saw outline: thin line; waste beside it",
            vec![(0.0, EDGE), (-(SAWN + EDGE.width) / 2.0, band(SAWN))],
        ),
        ("pencil line", vec![(0.0, PENCIL)]),
        (
            "cut the paper; seam of two sheets",
            vec![(0.0, Pen::new(0.15, Ink::BLACK).dashed(Dash::Fold))],
        ),
        (
            "hidden: from the other face or inside",
            vec![(0.0, Pen::THIN.dashed(Dash::Hidden))],
        ),
    ];
    let width = inside.width() / COLUMNS as f64;
    let mut items = Vec::new();
    for (index, (words, lines)) in kinds.into_iter().enumerate() {
        let at = Point::new(
            inside.min.x + width * (index % COLUMNS) as f64,
            inside.max.y - STEP * ((index / COLUMNS) as f64 + 0.6),
        );
        for (up, pen) in lines {
            let from = at + Point::new(0.0, up);
            let to = from + Point::new(SAMPLE, 0.0);
            items.push(Item::line(Role::Frame, from, to, pen));
        }
        let text = TextLine::new(at + Point::new(SAMPLE + 1.5, -0.9), SMALL, words);
        items.push(Item::text(Role::Frame, text.fitted(width - SAMPLE - 3.0)));
    }
    let y = inside.max.y - STEP * 3.8;
    let hole = Point::new(inside.min.x + 6.5, y);
    items.push(Item::stroke(Role::Frame, circle(hole, 1.5), Pen::THIN));
    // Shorter than on a template, so that nobody takes it for a hole.
    items.extend(cross(Role::Frame, hole, 2.6));
    let words = "hole: prick the open middle of the cross; its arms show past the bit";
    let at = Point::new(inside.min.x + SAMPLE + 1.5, y - 0.9);
    let text = TextLine::new(at, SMALL, words);
    items.push(Item::text(Role::Frame, text));
    (items, y - 3.0)
}
