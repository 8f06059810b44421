//! A free shape in place of the rectangle.

use std::sync::Arc;

use jigless_model::geom::Path;
use jigless_model::source::Spanned;

use super::common::LABEL;
use super::shape::read_points;
use super::{Feature, FeatureKind};
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "outline",
    summary: "a free shape in place of the rectangle",
    fields: &[
        Field::required(
            "points",
            Shape::Points,
            "the points around the part; each may carry a radius or an arc",
        ),
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct Outline {
    path: Spanned<Path>,
}

fn read(fields: &Fields, frame: &Frame) -> Option<Arc<dyn Feature>> {
    let node = fields.required_node("points")?;
    let path = read_points(fields.context(), node, frame)?;
    Some(Arc::new(Outline { path }))
}

impl Feature for Outline {
    fn lower(&self, out: &mut Lowering) {
        out.replace_outline(self.path.span, self.path.value.clone());
    }
}
