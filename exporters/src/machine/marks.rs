//! Pencil lines and texts of marks, as a machine engraves them.

use jigless_model::geom::{Bounds, Point};
use jigless_model::operation::Mark;

use super::drawing::{LayerDrawing, LayerShape, NoteText};
use super::layers::Layer;
use super::{lettering, pencil};

/// The lines and the text of a mark. A text with letters that the alphabet has not goes to the notes.
pub(super) fn draw(mark: &Mark, text_height: f64, drawing: &mut LayerDrawing) {
    for line in &mark.lines {
        for piece in pencil::not_yet_drawn(line, drawing) {
            drawing.path(Layer::Mark, &piece);
        }
    }
    let Some((middle, text)) = &mark.text else {
        return;
    };
    let base = Point::new(middle.x, (middle.y - text_height / 2.0).max(0.0));
    if lettering::knows(text) {
        let base = beside_lines(text, base, text_height, drawing);
        let start = base - Point::new(lettering::length(text, text_height) / 2.0, 0.0);
        for stroke in lettering::strokes(text, start, text_height) {
            drawing.path(Layer::Mark, &stroke);
        }
        return;
    }
    let text = NoteText {
        at: base,
        centred: true,
        height: text_height,
        upward: false,
        content: text.clone(),
    };
    drawing.add(Layer::Notes, LayerShape::Text(text));
}

/// The place nearest to where a text is asked for at which it lies on no line; that place itself, if there is none.
fn beside_lines(text: &str, base: Point, height: f64, drawing: &LayerDrawing) -> Point {
    let length = lettering::length(text, height);
    let steps = [
        (0.0, 0.0),
        (0.0, 1.25 * height),
        (0.0, -1.25 * height),
        (0.5 * length + height, 0.0),
        (-0.5 * length - height, 0.0),
        (0.5 * length + height, height),
        (-0.5 * length - height, -height),
    ];
    steps
        .into_iter()
        .map(|(x, y)| base + Point::new(x, y))
        .find(|at| {
            let corner = *at - Point::new(length / 2.0, 0.0);
            let room = Bounds::new(corner, corner + Point::new(length, height));
            room.min.x >= 0.0 && room.min.y >= 0.0 && drawing.is_clear(room.grown(0.1 * height))
        })
        .unwrap_or(base)
}
