//! An edge cut off square.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::operation::{self, Work};
use jigless_model::side::Edge;
use jigless_model::source::Spanned;

use super::common::LABEL;
use super::{Feature, FeatureKind};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "bevel",
    summary: "an edge cut off square",
    fields: &[
        Field::required("edge", Shape::Edges, "the edge, or a list of edges"),
        Field::required(
            "angle",
            Shape::Degrees(-75.0, 75.0),
            "tilt of the cut from square: above 0 the front face keeps its size, below 0 the back",
        ),
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct Bevel {
    edges: Vec<Spanned<Edge>>,
    /// Degrees.
    angle: Spanned<f64>,
}

fn read(fields: &Fields, _: &Frame) -> Option<Arc<dyn Feature>> {
    let edges = fields.edges("edge");
    let angle = fields.degrees("angle");
    Some(Arc::new(Bevel {
        edges: edges?,
        angle: angle?,
    }))
}

impl Feature for Bevel {
    fn lower(&self, out: &mut Lowering) {
        if self.angle.value == 0.0 {
            out.find(
                Finding::error(
                    codes::OUT_OF_RANGE,
                    self.angle.span,
                    "a bevel of 0 degrees is a square edge",
                )
                .fix("write the tilt from square, such as 45, or leave the bevel out"),
            );
            return;
        }
        for edge in &self.edges {
            let bevel = operation::Bevel {
                edge: edge.value,
                angle: self.angle.value.to_radians(),
            };
            out.push(edge.span, Work::Bevel(bevel));
        }
    }
}
