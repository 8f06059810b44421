//! Areas that are milled into a face: strips along edges, and whether they lie on the part.

use jigless_model::diag::Finding;
use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Point};
use jigless_model::side::Edge;
use jigless_model::source::{Span, Spanned};

use super::common::Stop;
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::Frame;

/// The strip of a part along an edge, from `near` to `near + width` away from it, kept away from the ends by `stop`.
pub(super) fn strip(frame: &Frame, edge: Edge, near: f64, width: f64, stop: Stop) -> Bounds {
    let run = frame.edge_length(edge);
    Bounds::new(
        frame.from_edge(edge, stop.start, near),
        frame.from_edge(edge, run - stop.end, near + width),
    )
}

/// The edges of the part that an upright box reaches.
pub(super) fn open_edges(frame: &Frame, area: Bounds) -> Vec<Edge> {
    let reaches = |edge: Edge| match edge {
        Edge::Left => area.min.x <= LENGTH_TOLERANCE,
        Edge::Right => area.max.x >= frame.width - LENGTH_TOLERANCE,
        Edge::Bottom => area.min.y <= LENGTH_TOLERANCE,
        Edge::Top => area.max.y >= frame.height - LENGTH_TOLERANCE,
    };
    Edge::ALL
        .into_iter()
        .filter(|edge| reaches(*edge))
        .collect()
}

/// Reports where stops leave nothing; gives whether something is left.
pub(super) fn stops_fit(out: &mut Lowering, edge: Spanned<Edge>, stop: Stop) -> bool {
    let run = out.frame().edge_length(edge.value);
    if stop.start + stop.end < run {
        return true;
    }
    let (start, end, run) = (out.show(stop.start), out.show(stop.end), out.show(run));
    let message = format!("stops of {start} and {end} leave nothing of a run of {run}");
    out.find(Finding::error(codes::NOTHING_LEFT, edge.span, message).fix("shorten the stops"));
    false
}

/// Reports where an area reaches over the part; gives whether it is inside.
pub(super) fn area_is_inside(out: &mut Lowering, span: Span, area: Bounds, what: &str) -> bool {
    let frame = out.frame();
    let part = Bounds::of_size(frame.width, frame.height);
    if part.contains_box(area, LENGTH_TOLERANCE) {
        return true;
    }
    let Point { x, y } = part.min - area.min;
    let beyond = area.max - part.max;
    let over = [
        (Edge::Left, x),
        (Edge::Bottom, y),
        (Edge::Right, beyond.x),
        (Edge::Top, beyond.y),
    ];
    let (edge, worst) = over
        .into_iter()
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap_or((Edge::Left, 0.0));
    let (edge, worst) = (edge.name(), out.show(worst));
    let message = format!("the {what} reaches {worst} over the {edge} edge");
    out.find(
        Finding::error(codes::AREA_OUTSIDE_PART, span, message).fix(format!(
            "move it {worst} away from the {edge} edge or make it smaller"
        )),
    );
    false
}
