//! A bite out of an edge; out of a corner where it begins at one.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::fact::{Fact, Received, Slot};
use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Path, rectangle, rounded};
use jigless_model::side::Edge;
use jigless_model::source::Spanned;

use super::common::{LABEL, RECEIVES, mating, read_receives};
use super::{Feature, FeatureKind};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "notch",
    summary: "a bite out of an edge; at a corner when it starts at 0",
    fields: &[
        Field::required("edge", Shape::Edge, "the edge that it is cut into"),
        Field::required(
            "start",
            Shape::Distance,
            "distance from the left or bottom end of the edge to its near side",
        ),
        Field::required("width", Shape::Size, "size along the edge"),
        Field::required("depth", Shape::Size, "how far it reaches into the part"),
        Field::with_default(
            "corner_radius",
            Shape::Distance,
            "0",
            "radius of its inside corners",
        ),
        RECEIVES,
        mating("true"),
        LABEL,
    ],
    read,
};

/// How far the cutting shape reaches over an open side, in millimetres, so that no side of it lies on the part's own
/// edge.
const OVERSHOOT: f64 = 1.0;

#[derive(Debug)]
struct Notch {
    edge: Spanned<Edge>,
    start: Spanned<f64>,
    width: Spanned<f64>,
    depth: Spanned<f64>,
    radius: Spanned<f64>,
    receives: Option<Spanned<String>>,
    mating: bool,
}

fn read(fields: &Fields, _: &Frame) -> Option<Arc<dyn Feature>> {
    let edge = fields.edge("edge");
    let start = fields.length("start");
    let width = fields.length("width");
    let depth = fields.length("depth");
    let radius = fields.length("corner_radius");
    let receives = read_receives(fields);
    let mating = fields.word("mating");
    Some(Arc::new(Notch {
        edge: edge?,
        start: start?,
        width: width?,
        depth: depth?,
        radius: radius?,
        receives: receives.ok()?,
        mating: mating?.value == "true",
    }))
}

impl Feature for Notch {
    fn lower(&self, out: &mut Lowering) {
        let frame = out.frame();
        let unit = out.unit();
        let run = frame.edge_length(self.edge.value);
        let end = self.start.value + self.width.value;
        if end > run + LENGTH_TOLERANCE {
            out.find(
                Finding::error(
                    codes::BEYOND_EDGE,
                    self.width.span,
                    format!(
                        "the notch ends at {}, and the {} edge is {} long",
                        unit.show(end),
                        self.edge.value.name(),
                        unit.show(run)
                    ),
                )
                .label(self.start.span, "it starts here")
                .fix(format!(
                    "make it {} narrower or start earlier",
                    unit.show(end - run)
                )),
            );
            return;
        }
        match self.shape(&frame, end, run) {
            Some(path) if self.mating => out.cut_away_mating(self.edge.span, path),
            Some(path) => out.cut_away(self.edge.span, path),
            None => out.find(
                Finding::error(
                    codes::RADIUS_TOO_LARGE,
                    self.radius.span,
                    format!(
                        "a corner radius of {} does not fit into a notch of {} by {}",
                        unit.show(self.radius.value),
                        unit.show(self.width.value),
                        unit.show(self.depth.value)
                    ),
                )
                .fix("make it smaller"),
            ),
        }
    }

    fn facts(&self) -> Vec<Fact> {
        let received = self.receives.clone().map(|part| {
            Fact::Receives(Received {
                part,
                slot: Slot::Lap,
                width: self.width,
                depth: self.depth,
                edge: Some(self.edge.value),
            })
        });
        received.into_iter().collect()
    }
}

impl Notch {
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
        if self.radius.value > nominal.width().min(nominal.height()) {
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
                if inside { self.radius.value } else { 0.0 }
            })
            .collect();
        rounded(&square, &radii).ok()
    }
}
