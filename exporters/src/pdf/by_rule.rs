//! Work that is set out with a rule and a gauge, in words.

use jigless_model::geom::{Bounds, Path};
use jigless_model::operation::{Operation, Work};
use jigless_model::side::Face;
use jigless_model::view::FaceView;

use crate::drawing::measure::{Lengths, degrees};
use crate::view_edge::{self, Axis};

/// A piece of such work.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RuledWork {
    /// Where it goes.
    pub(super) words: String,
    /// What the author or a joint calls it, if it is a pencil line.
    pub(super) goes_here: Option<String>,
}

/// Where a groove, rebate, bevel or pencil line goes.
pub(super) fn by_rule(
    view: &FaceView,
    operation: &Operation,
    lengths: Lengths,
) -> Option<RuledWork> {
    let face = view.face.name();
    let say = |mm: f64| lengths.bare(mm);
    let along = |axis: Axis, b: Bounds| {
        let side = axis.datum(view);
        let [one, other] = [b.min, b.max].map(|corner| view_edge::distance(view, side, corner));
        format!(
            "{} to {} from the {} edge",
            say(one.min(other)),
            say(one.max(other)),
            view.physical(side).name()
        )
    };
    let span = |b: Bounds| Axis::ALL.map(|axis| along(axis, b)).join(", ");
    let words = match &operation.work {
        Work::MillArea(area) => Some(format!(
            "{} {} ({face}): {}, {} deep",
            area.id,
            area.kind.name(),
            span(area.outline.bounds()?),
            say(area.depth)
        )),
        Work::Mark(mark) => {
            let bounds = mark.lines.iter().filter_map(Path::bounds);
            let name = mark.text.as_ref().map(|(_, words)| format!(" {words}"));
            Some(format!(
                "pencil line{} ({face}): {}",
                name.unwrap_or_default(),
                span(bounds.reduce(Bounds::union)?)
            ))
        }
        Work::Bevel(bevel) if view.face == Face::Front => {
            let thickness = view.workpiece.part.thickness();
            Some(format!(
                "bevel of the {} edge: {} off square, {} at the face",
                bevel.edge.name(),
                degrees(bevel.angle.abs()),
                say(bevel.setback(thickness))
            ))
        }
        _ => None,
    };
    let goes_here = match &operation.work {
        Work::Mark(_) => operation.origin.label.clone(),
        _ => None,
    };
    words.map(|words| RuledWork { words, goes_here })
}
