//! Corners that a round tool leaves filled although the corner of another part goes into them: squared by hand.

use jigless_model::geom::{Bounds, Point, rectangle};

use super::drawing::{LayerDrawing, LayerShape, NoteText};
use super::layers::Layer;

/// Draws a number and a small square at each corner; gives the line for the notes.
pub(super) fn draw(corners: &[Point], height: f64, drawing: &mut LayerDrawing) -> Vec<String> {
    for (index, corner) in corners.iter().enumerate() {
        let square = rectangle(Bounds::around(*corner, height / 2.0));
        drawing.path(Layer::HandWork, &square);
        let text = NoteText {
            at: *corner + Point::new(height, height),
            centred: false,
            height,
            upward: false,
            content: name(index),
        };
        drawing.add(Layer::HandWork, LayerShape::Text(text));
    }
    let names: Vec<String> = (0..corners.len()).map(name).collect();
    match names.as_slice() {
        [] => Vec::new(),
        [one] => vec![format!("{one}: square the corner by chisel, by hand")],
        names => vec![format!(
            "{}: square the corners by chisel, by hand",
            names.join(", ")
        )],
    }
}

/// The name of a corner that is squared by hand.
fn name(index: usize) -> String {
    format!("Q{}", index + 1)
}
