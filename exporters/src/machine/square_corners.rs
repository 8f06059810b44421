//! Corners that a round tool leaves filled although the corner of another part goes into them: squared by hand.

use jigless_model::geom::{Bounds, Point, rectangle};
use jigless_model::operation::Work;
use jigless_model::side::Face;
use jigless_model::view::FaceView;

use super::drawing::{LayerDrawing, LayerShape, NoteText};
use super::layers::Layer;
use super::relief::{relieve, relieve_area};
use super::router_options::RouterOptions;
use super::tools;

/// The corners of a face that the tools leave filled although another part goes into them, in the order of their numbers.
pub(super) fn of(view: &FaceView, router: &RouterOptions) -> Vec<Point> {
    let mut corners = Vec::new();
    if let Some(tool) = tools::for_contours(router, view.workpiece)
        && view.face == Face::Front
    {
        for cut in &view.contours {
            let mating = &view.workpiece.mating;
            corners.extend(relieve(&cut.path, mating, router.relief, tool.diameter / 2.0).left);
        }
    }
    let mating = mating_of(view);
    for operation in &view.operations {
        if let Work::MillArea(area) = &operation.work
            && let Some((tool, border)) = tools::for_area(router, area, (view.width, view.height))
        {
            let radius = tool.diameter / 2.0;
            corners.extend(relieve_area(&border, &mating, router.relief, radius).left);
        }
    }
    corners
}

/// The corners that take those of other parts, as seen on a face.
pub(super) fn mating_of(view: &FaceView) -> Vec<Point> {
    let seen = |corner: &Point| match view.face {
        Face::Front => *corner,
        Face::Back => Point::new(view.width - corner.x, corner.y),
    };
    view.workpiece.mating.iter().map(seen).collect()
}

/// The names of so many corners.
pub(super) fn names(count: usize) -> Vec<String> {
    (0..count).map(name).collect()
}

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
    let names = names(corners.len());
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
