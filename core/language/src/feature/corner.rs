//! Rounded or cut-off corners.

use std::sync::Arc;

use jigless_model::feature::CornerShape;
use jigless_model::side::Corner as Which;
use jigless_model::source::Spanned;

use super::common::LABEL;
use super::{Feature, FeatureKind};
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "corner",
    summary: "a rounded or cut-off corner of the part",
    fields: &[
        Field::required("which", Shape::Corners, "the corner, or a list of corners"),
        Field::optional("radius", Shape::Size, "rounds it"),
        Field::optional(
            "chamfer",
            Shape::Size,
            "cuts it off at 45 degrees, so far from the corner",
        ),
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct Corner {
    which: Vec<Spanned<Which>>,
    shape: CornerShape,
}

fn read(fields: &Fields, _: &Frame) -> Option<Arc<dyn Feature>> {
    let which = fields.corners("which");
    let shape = fields.exactly_one(&["radius", "chamfer"]).and_then(|key| {
        let length = fields.length(key)?;
        Some(match key {
            "radius" => CornerShape::Radius(length),
            _ => CornerShape::Chamfer(length),
        })
    });
    Some(Arc::new(Corner {
        which: which?,
        shape: shape?,
    }))
}

impl Feature for Corner {
    fn lower(&self, out: &mut Lowering) {
        for which in &self.which {
            out.shape_corner(*which, self.shape);
        }
    }
}
