//! Work that a three-axis machine does not make: edge holes, angled bores and bevels. It is drawn on a layer of its own
//! and listed in the notes, so that nobody takes the file for the whole part.

use jigless_core::geom::{Bounds, Path, Point, rectangle};
use jigless_core::operation::{AngledBore, Bevel, EdgeDrill, Operation, Work};
use jigless_core::side::{Edge, Face};
use jigless_core::units::{Unit, decimal};
use jigless_core::view::FaceView;

use super::drawing::{Drawing, Shape, Text};
use super::layers::Layer;

/// What stands beside each piece of hand work.
const BY_HAND: &str = "by hand, see template";

/// Whether an operation is hand work.
pub(super) fn is_hand_work(operation: &Operation) -> bool {
    match operation.work {
        Work::AngledBore(_) | Work::EdgeDrill(_) | Work::Bevel(_) => true,
        Work::Drill(_) | Work::MillArea(_) | Work::CutContour(_) | Work::Mark(_) => false,
    }
}

/// Draws the hand work of a view, and gives a line for each for the notes.
pub(super) fn draw(
    view: &FaceView,
    unit: Unit,
    text_height: f64,
    drawing: &mut Drawing,
) -> Vec<String> {
    let operations = view.operations.iter().chain(&view.edge_work);
    operations
        .filter_map(|operation| {
            let (tag_at, line) = match &operation.work {
                Work::AngledBore(bore) => angled_bore(view, bore, unit, drawing),
                Work::EdgeDrill(hole) => edge_hole(view, hole, unit, drawing),
                Work::Bevel(bevel) => bevelled_edge(view, *bevel, drawing),
                Work::Drill(_) | Work::MillArea(_) | Work::CutContour(_) | Work::Mark(_) => {
                    return None;
                }
            };
            let name = line.split(':').next().unwrap_or_default();
            let mut tag = Text {
                at: tag_at + Point::new(text_height / 2.0, text_height / 2.0),
                centred: false,
                height: text_height,
                upward: false,
                text: format!("{name} {BY_HAND}"),
            };
            // Within the part where it fits, clear of the notes above.
            tag.at.x = tag.at.x.min(view.width - tag.length()).max(0.0);
            tag.at.y = tag.at.y.min(view.height - 2.0 * text_height).max(0.0);
            drawing.add(Layer::HandWork, Shape::Text(tag));
            Some(format!("{line}, {BY_HAND}"))
        })
        .collect()
}

/// The axis as seen on the face, and the mouth's diameter about the point where the axis enters.
fn angled_bore(
    view: &FaceView,
    bore: &AngledBore,
    unit: Unit,
    drawing: &mut Drawing,
) -> (Point, String) {
    drawing.circle(Layer::HandWork, bore.entry, bore.diameter);
    drawing.path(Layer::HandWork, &Path::line(bore.entry, bore.exit));
    let line = format!(
        "{}: angled bore of {} at {} degrees toward the {} edge",
        bore.id,
        unit.show(bore.diameter),
        decimal(bore.angle.to_degrees(), 1),
        view.physical(bore.edge).name(),
    );
    (bore.entry, line)
}

/// The hole as seen through the board: a rectangle of its diameter and depth.
fn edge_hole(
    view: &FaceView,
    hole: &EdgeDrill,
    unit: Unit,
    drawing: &mut Drawing,
) -> (Point, String) {
    let radius = hole.diameter / 2.0;
    let (low, high) = (hole.along - radius, hole.along + radius);
    let (a, b) = match hole.edge {
        Edge::Left => (Point::new(0.0, low), Point::new(hole.depth, high)),
        Edge::Right => (
            Point::new(view.width - hole.depth, low),
            Point::new(view.width, high),
        ),
        Edge::Bottom => (Point::new(low, 0.0), Point::new(high, hole.depth)),
        Edge::Top => (
            Point::new(low, view.height - hole.depth),
            Point::new(high, view.height),
        ),
    };
    let bounds = Bounds::new(a, b);
    drawing.path(Layer::HandWork, &rectangle(bounds));
    let line = format!(
        "{}: edge hole of {}, {} deep, in the {} edge, {} from the front face",
        hole.id,
        unit.show(hole.diameter),
        unit.show(hole.depth),
        view.physical(hole.edge).name(),
        unit.show(hole.from_front),
    );
    (bounds.min, line)
}

/// The line to which the face is cut back, where this is the face that loses.
fn bevelled_edge(view: &FaceView, bevel: Bevel, drawing: &mut Drawing) -> (Point, String) {
    let losing = if bevel.angle > 0.0 {
        Face::Back
    } else {
        Face::Front
    };
    let setback = if view.face == losing {
        bevel.setback(view.workpiece.part.thickness())
    } else {
        0.0
    };
    let (w, h) = (view.width, view.height);
    let (from, to) = match bevel.edge {
        Edge::Left => (Point::new(setback, 0.0), Point::new(setback, h)),
        Edge::Right => (Point::new(w - setback, 0.0), Point::new(w - setback, h)),
        Edge::Bottom => (Point::new(0.0, setback), Point::new(w, setback)),
        Edge::Top => (Point::new(0.0, h - setback), Point::new(w, h - setback)),
    };
    if setback > 0.0 {
        drawing.path(Layer::HandWork, &Path::line(from, to));
    }
    let line = format!(
        "{} edge: bevel of {} degrees, the {} face is cut back",
        view.physical(bevel.edge).name(),
        decimal(bevel.angle.to_degrees().abs(), 1),
        losing.name(),
    );
    (from.toward(to, 0.5), line)
}
