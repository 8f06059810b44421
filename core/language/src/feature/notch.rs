//! A bite out of an edge; out of a corner where it begins at one.

use jigless_model::diag::Finding;
use jigless_model::fact::Slot;
use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Path, rectangle, rounded};
use jigless_model::side::Edge;
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::{Label, Receives};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Distance, Fields, Frame, KeySet, Size, TrueFalse};

crate::fields! {
    struct NotchKeys {
        /// the edge that it is cut into
        edge: Spanned<Edge>,
        /// distance from the left or bottom end of the edge to its near side
        start: Spanned<Distance>,
        /// size along the edge
        width: Spanned<Size>,
        /// how far it reaches into the part
        depth: Spanned<Size>,
        /// radius of its inside corners
        corner_radius: Spanned<Distance> = "0",
        receives: Receives,
        /// whether the corner of another part goes into its corners, so that a round tool must relieve them
        mating: TrueFalse = "true",
        _label: Label,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "notch",
    summary: "a bite out of an edge; at a corner when it starts at 0",
    fields: NotchKeys::FIELDS,
    make,
};

/// How far the cutting shape reaches over an open side, in millimetres, so that no side of it lies on the part's own
/// edge.
const OVERSHOOT: f64 = 1.0;

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = NotchKeys::read(fields)?;
    let frame = out.frame();
    let (edge, width, depth) = (keys.edge, keys.width, keys.depth);
    let run = frame.edge_length(edge.value);
    let end = keys.start.value + width.value;
    let shape = keys.shape(&frame, end, run);
    keys.receives
        .note(out, Slot::Lap, width, depth, Some(edge.value));
    if end > run + LENGTH_TOLERANCE {
        let (over, end, run) = (out.show(end - run), out.show(end), out.show(run));
        let edge = edge.value.name();
        let message = format!("the notch ends at {end}, and the {edge} edge is {run} long");
        out.find(
            Finding::error(codes::BEYOND_EDGE, width.span, message)
                .label(keys.start.span, "it starts here")
                .fix(format!("make it {over} narrower or start earlier")),
        );
    } else if let Some(path) = shape {
        out.cut_away(edge.span, path, keys.mating);
    } else {
        let radius = keys.corner_radius;
        let shown = [radius, width, depth].map(|length| out.show(length.value));
        let [radius_shown, wide, deep] = shown;
        let message = format!(
            "a corner radius of {radius_shown} does not fit into a notch of {wide} by {deep}"
        );
        out.find(
            Finding::error(codes::RADIUS_TOO_LARGE, radius.span, message).fix("make it smaller"),
        );
    }
    Some(())
}

impl NotchKeys {
    /// The shape to cut away, reaching over every open side; `None` where the radius does not fit.
    fn shape(&self, frame: &Frame, end: f64, run: f64) -> Option<Path> {
        let at_start = self.start.value <= LENGTH_TOLERANCE;
        let at_end = end >= run - LENGTH_TOLERANCE;
        let low = if at_start {
            -OVERSHOOT
        } else {
            self.start.value
        };
        let high = if at_end { run + OVERSHOOT } else { end };
        let edge = self.edge.value;
        let nominal = Bounds::new(
            frame.from_edge(edge, self.start.value, 0.0),
            frame.from_edge(edge, end, self.depth.value),
        );
        if self.corner_radius.value > nominal.width().min(nominal.height()) {
            return None;
        }
        let bounds = Bounds::new(
            frame.from_edge(edge, low, -OVERSHOOT),
            frame.from_edge(edge, high, self.depth.value),
        );
        let square = rectangle(bounds);
        // Only corners inside the material are rounded.
        let part = Bounds::of_size(frame.width, frame.height);
        let radii: Vec<f64> = square
            .vertices
            .iter()
            .map(|v| {
                let inside = v.point.x > LENGTH_TOLERANCE
                    && v.point.x < part.max.x - LENGTH_TOLERANCE
                    && v.point.y > LENGTH_TOLERANCE
                    && v.point.y < part.max.y - LENGTH_TOLERANCE;
                if inside {
                    self.corner_radius.value
                } else {
                    0.0
                }
            })
            .collect();
        rounded(&square, &radii).ok()
    }
}
