//! How much of a face a piece of work takes with its marks.

use jigless_model::geom::{Bounds, Path};
use jigless_model::operation::{Mouth, Operation, Work};
use jigless_model::view::FaceView;

use crate::drawing::mark::ARM;
use crate::view_edge;

/// Work this near to an edge, in millimetres, registers on it.
pub(super) const NEAR: f64 = 120.0;

/// The box around the marks of work on a face; `None` where there is nothing to draw.
pub(super) fn work_box(operation: &Operation) -> Option<Bounds> {
    match &operation.work {
        Work::Drill(drill) => {
            let mouth = drill.mouth.map_or(0.0, Mouth::diameter);
            let widest = drill.diameter.max(mouth) / 2.0;
            Some(Bounds::around(drill.centre, widest + ARM))
        }
        Work::AngledBore(bore) => {
            let around = Bounds::around(bore.entry, bore.mouth_half_length());
            let axis = Bounds::new(bore.entry, bore.exit).grown(bore.diameter / 2.0);
            Some(around.union(axis).grown(ARM))
        }
        Work::MillArea(area) => area.outline.bounds(),
        Work::Mark(mark) => {
            let text = mark.text.as_ref().map(|(at, _)| Bounds::around(*at, 8.0));
            let lines = mark.lines.iter().filter_map(Path::bounds);
            lines.chain(text).reduce(Bounds::union)
        }
        Work::CutContour(_) | Work::EdgeDrill(_) | Work::Bevel(_) => None,
    }
}

/// The box around the marks of a hole into an edge; `None` for other work.
pub(super) fn work_box_of_edge(view: &FaceView, operation: &Operation) -> Option<Bounds> {
    let Work::EdgeDrill(hole) = &operation.work else {
        return None;
    };
    let (at, out) = view_edge::outward(view, hole.edge, hole.along);
    let bore = Bounds::new(at, at - out * (hole.depth + 3.0));
    Some(bore.union(Bounds::around(at, hole.diameter / 2.0 + ARM)))
}
