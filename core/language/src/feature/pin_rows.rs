//! Rows of holes for shelf pins.

use std::sync::Arc;

use jigless_model::operation::Depth;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;

use super::common::{FACE, LABEL};
use super::{Feature, FeatureKind};
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape, read_edge_distances, repeats};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "pin_rows",
    summary: "rows of holes for shelf pins",
    fields: &[
        Field::required(
            "setback",
            Shape::EdgeDistances,
            "a row along each of these edges, so far from it: `{left: 37, right: 37}`",
        ),
        Field::required(
            "first",
            Shape::Distance,
            "the first hole, from the bottom or left end of the edge",
        ),
        Field::with_default("step", Shape::Size, "32 mm", "distance between neighbours"),
        Field::required("count", Shape::Count, "how many holes in each row"),
        Field::with_default("diameter", Shape::Size, "5 mm", "diameter of the holes"),
        Field::required("depth", Shape::Size, "depth of the holes"),
        FACE,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct PinRows {
    setback: Vec<(Spanned<Edge>, f64)>,
    first: Spanned<f64>,
    step: f64,
    count: u32,
    diameter: f64,
    depth: Spanned<f64>,
    face: Face,
}

fn read(fields: &Fields, _: &Frame) -> Option<Arc<dyn Feature>> {
    let setback = fields
        .required_node("setback")
        .and_then(|node| read_edge_distances(fields.context(), node));
    let (first, step) = (fields.length("first"), fields.length("step"));
    let count = repeats(fields);
    let (diameter, depth) = (fields.length("diameter"), fields.length("depth"));
    let face = fields.face("face");
    Some(Arc::new(PinRows {
        setback: setback?,
        first: first?,
        step: step?.value,
        count: count?,
        diameter: diameter?.value,
        depth: depth?,
        face: face?.value,
    }))
}

impl Feature for PinRows {
    fn lower(&self, out: &mut Lowering) {
        if !out.depth_fits(self.depth, "shelf pin hole") {
            return;
        }
        let frame = out.frame();
        for (edge, setback) in &self.setback {
            for hole in 0..self.count {
                let along = self.first.value + f64::from(hole) * self.step;
                let centre = frame.from_edge(edge.value, along, *setback);
                let depth = Depth::Blind(self.depth.value);
                out.drill(
                    self.face,
                    Spanned::new(centre, self.first.span),
                    self.diameter,
                    depth,
                    None,
                );
            }
        }
    }
}
