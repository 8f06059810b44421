//! Work that a three-axis machine does not make: edge holes, angled bores and bevels. It is drawn on a layer of its own
//! and listed in the notes, so that nobody takes the file for the whole part.

use jigless_model::geom::{Bounds, Path, Point, rectangle};
use jigless_model::operation::{AngledBore, Bevel, EdgeDrill, Operation, Work};
use jigless_model::side::{Edge, Face};
use jigless_model::units::{Unit, decimal};
use jigless_model::view::FaceView;

use super::drawing::{CHARACTER_WIDTH, LayerDrawing, LayerShape, NoteText};
use super::layers::Layer;
use super::router_options::RouterOptions;
use super::square_corners;

/// Whether an operation is hand work.
pub(super) fn is_hand_work(operation: &Operation) -> bool {
    match operation.work {
        Work::AngledBore(_) | Work::EdgeDrill(_) | Work::Bevel(_) => true,
        Work::Drill(_) | Work::MillArea(_) | Work::CutContour(_) | Work::Mark(_) => false,
    }
}

/// A piece of hand work as it is listed, and the short text beside it in the drawing.
struct HandWorkItem {
    /// Its name on paper, or what else sets it apart.
    name: String,
    /// What it is.
    description: String,
    /// The short text beside it.
    tag: String,
    /// Where the left end of the short text goes.
    tag_at: Point,
    /// Whether the short text reads upward.
    upward: bool,
}

/// Draws the hand work of a view, and lists it for the notes: a name, and what it is.
pub(super) fn draw(
    view: &FaceView,
    unit: Unit,
    text_height: f64,
    drawing: &mut LayerDrawing,
) -> Vec<(String, String)> {
    let mut list = Vec::new();
    for operation in view.operations.iter().chain(&view.edge_work) {
        let piece = match &operation.work {
            Work::AngledBore(bore) => angled_bore(view, bore, unit, text_height, drawing),
            Work::EdgeDrill(hole) => edge_hole(view, hole, unit, text_height, drawing),
            Work::Bevel(bevel) => bevelled_edge(view, *bevel, text_height, drawing),
            Work::Drill(_) | Work::MillArea(_) | Work::CutContour(_) | Work::Mark(_) => continue,
        };
        let tag = NoteText {
            at: piece.tag_at,
            centred: false,
            height: text_height,
            upward: piece.upward,
            content: piece.tag,
        };
        drawing.add(Layer::HandWork, LayerShape::Text(tag));
        let description = format!("{}, by hand, see template", piece.description);
        list.push((piece.name, description));
    }
    list
}

/// What of a view a program leaves to the hand, line by line.
pub(super) fn by_hand(view: &FaceView, router: &RouterOptions) -> Vec<String> {
    let id = &view.workpiece.part.id;
    let mut lines = Vec::new();
    let count = view
        .operations
        .iter()
        .chain(&view.edge_work)
        .filter(|o| is_hand_work(o))
        .count();
    match count {
        0 => {}
        1 => lines.push(format!(
            "{id}: an edge hole, angled bore or bevel, see its template"
        )),
        _ => lines.push(format!(
            "{id}: {count} edge holes, angled bores or bevels, see its template"
        )),
    }
    let marks = view
        .operations
        .iter()
        .any(|o| matches!(o.work, Work::Mark(_)));
    if marks {
        lines.push(format!("{id}: marks are drawn by pencil, see its template"));
    }
    let corners = square_corners::of(view, router).len();
    if corners > 0 {
        let names = square_corners::names(corners).join(", ");
        lines.push(format!("{id}: {names}: square by chisel"));
    }
    lines
}

/// How long a short text is at most.
fn tag_length(tag: &str, text_height: f64) -> f64 {
    tag.chars().count() as f64 * CHARACTER_WIDTH * text_height
}

/// The axis as seen on the face, and the true mouth: an ellipse about the point where the axis enters.
fn angled_bore(
    view: &FaceView,
    bore: &AngledBore,
    unit: Unit,
    text_height: f64,
    drawing: &mut LayerDrawing,
) -> HandWorkItem {
    drawing.path(Layer::HandWork, &mouth(bore));
    drawing.path(Layer::HandWork, &Path::line(bore.entry, bore.exit));
    let description = format!(
        "angled bore of {} at {} degrees toward the {} edge",
        unit.show(bore.diameter),
        decimal(bore.angle.to_degrees(), 1),
        view.physical(bore.edge).name(),
    );
    // On the side away from the axis.
    let away = (bore.entry - bore.exit).unit();
    let size = Point::new(tag_length(&bore.id, text_height), text_height);
    let reach = Point::new(1.0, 1.0) * f64::midpoint(2.0 * bore.mouth_half_length(), text_height)
        + size * 0.5;
    let middle = bore.entry + Point::new(away.x * reach.x, away.y * reach.y);
    HandWorkItem {
        name: bore.id.clone(),
        description,
        tag: bore.id.clone(),
        tag_at: middle - size * 0.5,
        upward: false,
    }
}

/// The ellipse that the wide part cuts into the face, in straight pieces that stay within 0.01 mm of it for mouths up to
/// 18 mm long (sagitta a (1 - cos(pi / 96)), elementary).
fn mouth(bore: &AngledBore) -> Path {
    const PIECES: u32 = 96;
    let along = (bore.exit - bore.entry).unit();
    let points = (0..PIECES).map(|i| {
        let angle = f64::from(i) * std::f64::consts::TAU / f64::from(PIECES);
        bore.entry
            + along * (bore.mouth_half_length() * angle.cos())
            + along.left() * (bore.diameter / 2.0 * angle.sin())
    });
    Path::of_points(points, true)
}

/// The hole as seen through the board: a rectangle of its diameter and depth.
fn edge_hole(
    view: &FaceView,
    hole: &EdgeDrill,
    unit: Unit,
    text_height: f64,
    drawing: &mut LayerDrawing,
) -> HandWorkItem {
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
    let description = format!(
        "edge hole of {}, {} deep, in the {} edge, {} from the front face",
        unit.show(hole.diameter),
        unit.show(hole.depth),
        view.physical(hole.edge).name(),
        unit.show(hole.from_front),
    );
    // Beyond the bottom of the hole, where the edge's own label is not.
    let gap = text_height / 2.0;
    let tag_length = tag_length(&hole.id, text_height);
    let tag_at = match hole.edge {
        Edge::Left => Point::new(bounds.max.x + gap, low),
        Edge::Right => Point::new(bounds.min.x - gap - tag_length, low),
        Edge::Bottom => Point::new(low, bounds.max.y + gap),
        Edge::Top => Point::new(low, bounds.min.y - gap - text_height),
    };
    HandWorkItem {
        name: hole.id.clone(),
        description,
        tag: hole.id.clone(),
        tag_at,
        upward: false,
    }
}

/// The line to which the face is cut back, where this is the face that loses.
fn bevelled_edge(
    view: &FaceView,
    bevel: Bevel,
    text_height: f64,
    drawing: &mut LayerDrawing,
) -> HandWorkItem {
    let losing = losing_face(bevel);
    let setback = setback(view, bevel);
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
    let degrees = decimal(bevel.angle.to_degrees().abs(), 1);
    let description = format!(
        "bevel of {degrees} degrees, the {} face is cut back",
        losing.name()
    );
    // Further in than the edge's own label and the line.
    let inside = 2.0 * text_height + setback;
    let near = 0.1;
    let tag_at = match bevel.edge {
        Edge::Left => Point::new(inside + text_height, near * h),
        Edge::Right => Point::new(w - inside, near * h),
        Edge::Bottom => Point::new(near * w, inside),
        Edge::Top => Point::new(near * w, h - inside - text_height),
    };
    HandWorkItem {
        name: format!("{} edge", view.physical(bevel.edge).name()),
        description,
        tag: format!("bevel {degrees} degrees"),
        tag_at,
        upward: bevel.edge.is_upright(),
    }
}

/// The face that a bevel makes smaller.
fn losing_face(bevel: Bevel) -> Face {
    if bevel.angle > 0.0 {
        Face::Back
    } else {
        Face::Front
    }
}

/// How far a bevel cuts back the face that is looked at.
fn setback(view: &FaceView, bevel: Bevel) -> f64 {
    if view.face == losing_face(bevel) {
        bevel.setback(view.workpiece.part.thickness())
    } else {
        0.0
    }
}

/// How far from a side of the view bevels are drawn.
pub(super) fn setback_at(view: &FaceView, side: Edge) -> f64 {
    view.edge_work
        .iter()
        .filter_map(|operation| match operation.work {
            Work::Bevel(bevel) if bevel.edge == side => Some(setback(view, bevel)),
            _ => None,
        })
        .fold(0.0, f64::max)
}
