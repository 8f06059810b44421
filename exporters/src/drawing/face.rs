//! One face of a part as a drawing: its contour, its marks, and the labels that want room.

use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Point, Segment};
use jigless_model::operation::ContourSide;
use jigless_model::plan::Grain;
use jigless_model::side::Edge;
use jigless_model::view::FaceView;

use super::face_work::{FaceWork, HoleEntry};
use super::item::{Item, Role};
use super::label::{LabelRequest, LabelTarget};
use super::measure::Lengths;
use super::style::{Ink, Inks};
use super::text::{Block, Turn};
use crate::view_edge;

/// A face as a drawing in view coordinates.
#[derive(Debug, Clone)]
pub(crate) struct FaceDrawing {
    /// The box around all ink but the labels.
    pub(crate) extent: Bounds,
    /// Contours, areas and marks.
    pub(crate) items: Vec<Item>,
    /// The labels that want room, the most needed first.
    pub(crate) requests: Vec<LabelRequest>,
    /// The holes and bores that are drilled from this face, in the order of the plan.
    pub(crate) holes: Vec<HoleEntry>,
}

/// Draws a face.
pub(crate) fn draw(view: &FaceView, inks: Inks, lengths: Lengths) -> FaceDrawing {
    let mut work = FaceWork::new(view, inks, lengths);
    let seen = view.operations.iter();
    for operation in seen.chain(&view.from_other_face).chain(&view.edge_work) {
        work.operation(operation);
    }
    for cut in &view.contours {
        work.contour(cut);
    }
    let face = Bounds::of_size(view.width, view.height);
    let boxes = work.items.iter().filter_map(Item::bounds);
    let extent = to_whole_mm(boxes.fold(face, Bounds::union));
    let mut requests = work.labels;
    let names = Edge::ALL
        .into_iter()
        .filter_map(|edge| name_of_edge(view, edge, inks.quiet));
    requests.extend(names.chain(grain(view, inks.quiet)));
    FaceDrawing {
        extent,
        items: work.items,
        requests,
        holes: work.holes,
    }
}

/// The box grown to whole millimetres, so that what is reckoned from its borders comes in plain numbers.
fn to_whole_mm(bounds: Bounds) -> Bounds {
    Bounds::new(
        Point::new(bounds.min.x.floor(), bounds.min.y.floor()),
        Point::new(bounds.max.x.ceil(), bounds.max.y.ceil()),
    )
}

/// The longest straight piece of the outline that lies on an edge, with the part on the left-hand side of the way;
/// `None` where the outline has left the edge altogether.
fn straight_piece(view: &FaceView, edge: Edge) -> Option<(Point, Point)> {
    let on_edge = |point: Point| view_edge::distance(view, edge, point).abs() < LENGTH_TOLERANCE;
    let outlines = view
        .contours
        .iter()
        .filter(|cut| cut.side == ContourSide::Outer);
    outlines
        .flat_map(|cut| cut.path.segments())
        .filter_map(|segment| match segment {
            Segment::Line(from, to) => Some((from, to)),
            Segment::Arc(_) => None,
        })
        .filter(|(from, to)| on_edge(*from) && on_edge(*to))
        .max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)))
}

/// The name of an edge, along it.
fn name_of_edge(view: &FaceView, edge: Edge, ink: Ink) -> Option<LabelRequest> {
    let (from, to) = straight_piece(view, edge)?;
    let physical = view.physical(edge);
    let name = format!("{} edge", physical.name());
    let own = view.workpiece.part.edge_label(physical);
    let full = own.map(|own| format!("{name}: {own}"));
    let words = [full.as_deref(), Some(name.as_str())].into_iter().flatten();
    let blocks = words.map(|words| Block::label([words]).inked(ink));
    let target = LabelTarget::Edge(from, to);
    Some(LabelRequest::new(Role::Note, target, blocks.collect()))
}

/// Which way the grain runs, if it does.
fn grain(view: &FaceView, ink: Ink) -> Option<LabelRequest> {
    let turn = match view.workpiece.part.grain {
        Grain::Width => Turn::Level,
        Grain::Height => Turn::Up,
        Grain::None => return None,
    };
    Some(LabelRequest {
        role: Role::Note,
        target: LabelTarget::Near(Point::new(view.width / 2.0, view.height / 2.0)),
        blocks: vec![Block::label(["grain runs this way"]).inked(ink)],
        arrow: Some(turn),
    })
}
