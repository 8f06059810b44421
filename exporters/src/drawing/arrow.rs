//! The arrow beside words that say a direction.

use jigless_model::geom::{Bounds, Path, Point};

use super::item::{Item, Role};
use super::style::Pen;
use super::text::Turn;

/// The strip of a box along the words, and what is left of it for the words.
pub(super) fn split_off(inside: Bounds, turn: Turn, strip: f64) -> (Bounds, Bounds) {
    match turn {
        Turn::Level => {
            let y = inside.min.y + strip;
            (
                Bounds::new(inside.min, Point::new(inside.max.x, y)),
                Bounds::new(Point::new(inside.min.x, y), inside.max),
            )
        }
        Turn::Up => {
            let x = inside.max.x - strip;
            (
                Bounds::new(Point::new(x, inside.min.y), inside.max),
                Bounds::new(inside.min, Point::new(x, inside.max.y)),
            )
        }
    }
}

/// An arrow with two heads through the middle of a box.
pub(super) fn double_headed(role: Role, inside: Bounds, turn: Turn) -> Vec<Item> {
    let centre = inside.centre();
    let (way, half) = match turn {
        Turn::Level => (Point::new(1.0, 0.0), inside.width() / 2.0),
        Turn::Up => (Point::new(0.0, 1.0), inside.height() / 2.0),
    };
    let mut items = vec![Item::line(
        role,
        centre - way * half,
        centre + way * half,
        Pen::THIN,
    )];
    for sign in [1.0, -1.0] {
        let tip = centre + way * (half * sign);
        let back = way * (-2.4 * sign);
        let head = [
            tip + back + way.left() * 0.8,
            tip,
            tip + back - way.left() * 0.8,
        ];
        items.push(Item::stroke(role, Path::of_points(head, false), Pen::THIN));
    }
    items
}
