//! An opening cut right through.

use std::sync::Arc;

use super::common::LABEL;
use super::shape::{
    AT, CENTRE, CORNER_RADIUS, HEIGHT, ROUND, WIDTH, read_box_or_circle, read_points,
};
use super::{Feature, FeatureKind};
use crate::geom::Path;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape};
use crate::source::Spanned;

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "cutout",
    summary: "an opening cut right through; over an edge it shapes the outline",
    fields: &[
        AT,
        WIDTH,
        HEIGHT,
        CORNER_RADIUS,
        CENTRE,
        ROUND,
        Field::optional("outline", Shape::Points, "any other shape: its points"),
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct Cutout {
    shape: Spanned<Path>,
}

fn read(fields: &Fields, frame: &Frame) -> Option<Arc<dyn Feature>> {
    let shape = match fields.exactly_one(&["at", "centre", "outline"])? {
        "outline" => read_points(fields.context(), fields.node("outline")?, frame)?,
        _ => read_box_or_circle(fields, frame)?,
    };
    Some(Arc::new(Cutout { shape }))
}

impl Feature for Cutout {
    fn lower(&self, out: &mut Lowering) {
        out.cut_away(self.shape.span, self.shape.value.clone());
    }
}
