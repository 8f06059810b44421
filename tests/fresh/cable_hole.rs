//! A hole for a cable, always right through.

use std::sync::Arc;

use jigless_model::operation::Depth;
use jigless_model::side::Face;
use jigless_model::source::Spanned;

use super::common::LABEL;
use super::{Feature, FeatureKind};
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Place, Shape};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "cable_hole",
    summary: "a hole for a cable",
    fields: &[
        Field::required("at", Shape::Place, "centre of the hole"),
        Field::with_default("diameter", Shape::Size, "60 mm", "diameter of the hole"),
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct CableHole {
    at: Place,
    diameter: f64,
}

fn read(fields: &Fields, _: &Frame) -> Option<Arc<dyn Feature>> {
    let at = fields
        .required_node("at")
        .and_then(|node| Place::read(fields.context(), node));
    let diameter = fields.length("diameter");
    Some(Arc::new(CableHole {
        at: at?,
        diameter: diameter?.value,
    }))
}

impl Feature for CableHole {
    fn lower(&self, out: &mut Lowering) {
        let centre = Spanned::new(self.at.point(&out.frame()), self.at.span);
        out.drill(Face::Front, centre, self.diameter, Depth::Through, None);
    }
}
