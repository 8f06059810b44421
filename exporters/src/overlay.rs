//! Two versions of a part in one drawing: what was, dashed and red, and what is, in black.

use jigless_model::geom::{Bounds, Point};
use jigless_model::side::Face;
use jigless_model::units::Unit;
use jigless_model::workpiece::Workpiece;

use crate::drawing::measure::Lengths;
use crate::drawing::{Dash, Ink, Inks, Item, ItemShape, Pen, Role, TextLine, Tint, face};
use crate::svg::paint::document;

const WAS: Ink = Ink(200, 30, 20);
const IS: Ink = Ink::BLACK;
/// Around and between the faces, in millimetres.
const MARGIN: f64 = 12.0;
/// Height of the lettering, in millimetres.
const LETTERS: f64 = 5.0;

/// An SVG at full size, with the front and, where there is work on it, the back to its right. Either of the two may be
/// missing: a part that is new, or one that is gone.
pub fn overlay(before: Option<&Workpiece>, after: Option<&Workpiece>, unit: Unit) -> String {
    let either = after.or(before);
    let name = either.map_or("", |workpiece| workpiece.part.id.as_str());
    let mut items: Vec<Item> = Vec::new();
    let mut left = 0.0;
    for side in Face::ALL {
        let worked = |workpiece: Option<&Workpiece>| workpiece.is_some_and(|w| w.has_work_on(side));
        if side == Face::Back && !worked(before) && !worked(after) {
            continue;
        }
        let mut drawn: Vec<Item> = Vec::new();
        for (workpiece, ink, dash) in [(before, WAS, Dash::Hidden), (after, IS, Dash::Solid)] {
            let Some(workpiece) = workpiece else { continue };
            let drawing = face::draw(
                &workpiece.seen_from(side),
                Inks::from(Tint::Grey),
                Lengths::decimal(unit),
            );
            drawn.extend(
                drawing
                    .items
                    .into_iter()
                    .filter_map(|item| traced(item, ink, dash)),
            );
        }
        let Some(bounds) = drawn.iter().filter_map(Item::bounds).reduce(Bounds::union) else {
            continue;
        };
        let shift = Point::new(left - bounds.min.x, 0.0);
        let heading = TextLine::new(
            Point::new(left, bounds.max.y + LETTERS),
            LETTERS,
            side.name(),
        );
        items.push(Item::text(Role::Label, heading));
        items.extend(drawn.iter().map(|item| item.moved(shift)));
        left += bounds.width() + 2.0 * MARGIN;
    }
    let drawn = items.iter().filter_map(Item::bounds).reduce(Bounds::union);
    let drawn = drawn.unwrap_or(Bounds::of_size(0.0, 0.0));
    let mut y = drawn.max.y + 2.0 * LETTERS;
    for line in ["red, dashed: before", "black: after", name] {
        items.push(Item::text(
            Role::Label,
            TextLine::new(Point::new(drawn.min.x, y), LETTERS, line),
        ));
        y += 1.5 * LETTERS;
    }
    let canvas = items.iter().filter_map(Item::bounds).reduce(Bounds::union);
    let canvas = canvas.unwrap_or(drawn).grown(MARGIN);
    document(canvas, name, "", &items)
}

/// The lines of a drawing in one ink; words are left out, because those of two versions would lie on one another.
fn traced(item: Item, ink: Ink, dash: Dash) -> Option<Item> {
    let pen = |pen: Pen| Pen { ink, dash, ..pen };
    let shape = match item.shape {
        ItemShape::Stroke(path, own) => ItemShape::Stroke(path, pen(own)),
        ItemShape::Ellipse(ellipse, own) => ItemShape::Ellipse(ellipse, pen(own)),
        ItemShape::Fill(path, _) => ItemShape::Stroke(path, Pen::new(0.2, ink).dashed(dash)),
        ItemShape::Text(_) => return None,
    };
    Some(Item { shape, ..item })
}
