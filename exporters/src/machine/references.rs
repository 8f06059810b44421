//! The short names of work (`G1`, `C3`) in a drawing, where the notes use them.

use jigless_model::geom::{Bounds, Point};
use jigless_model::operation::Work;
use jigless_model::view::FaceView;

use super::drawing::{CHARACTER_WIDTH, LayerDrawing, LayerShape, NoteText};
use super::layers::Layer;
use super::ngc::LayerOperation;

/// The name of a piece of work and the box around it, as seen on the face.
pub(super) fn of(view: &FaceView) -> Vec<(String, Bounds)> {
    let areas = view
        .operations
        .iter()
        .filter_map(|operation| match &operation.work {
            Work::MillArea(area) => Some((area.id.clone(), area.outline.bounds()?)),
            _ => None,
        });
    areas.collect()
}

/// Writes the numbers of operations at pieces of their work.
pub(super) fn draw_operations(
    operations: &[LayerOperation],
    height: f64,
    drawing: &mut LayerDrawing,
) {
    for operation in operations {
        let name = format!("({})", operation.number);
        draw(&name, operation.around, height, drawing);
    }
}

/// Writes a name at the first place in or beside a box where no line is.
pub(super) fn draw(name: &str, of: Bounds, height: f64, drawing: &mut LayerDrawing) {
    let length = name.chars().count() as f64 * CHARACTER_WIDTH * height;
    let (middle, gap) = (of.centre(), height / 2.0);
    let half = Point::new(length / 2.0, height / 2.0);
    let quarter = Point::new(of.width() / 4.0, of.height() / 4.0);
    let places = [
        middle,
        middle + quarter,
        middle - quarter,
        Point::new(of.max.x + gap + half.x, middle.y),
        Point::new(of.min.x - gap - half.x, middle.y),
        Point::new(middle.x, of.max.y + gap + half.y),
        Point::new(middle.x, of.min.y - gap - half.y),
    ];
    let clear = places
        .into_iter()
        .find(|at| drawing.is_clear(Bounds::new(*at - half, *at + half)));
    let at = clear.unwrap_or(middle) - half;
    let text = NoteText {
        at,
        centred: false,
        height,
        upward: false,
        content: name.to_owned(),
    };
    drawing.add(Layer::Notes, LayerShape::Text(text));
}
