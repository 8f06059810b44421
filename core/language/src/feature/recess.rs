//! A blind pocket milled into a face.

use std::sync::Arc;

use jigless_model::geom::Path;
use jigless_model::operation::AreaKind;
use jigless_model::side::Face;
use jigless_model::source::Spanned;

use super::common::{FACE, LABEL};
use super::groove::{area_is_inside, open_edges};
use super::shape::{AT, CENTRE, CORNER_RADIUS, HEIGHT, ROUND, WIDTH, read_box_or_circle};
use super::{Feature, FeatureKind};
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "recess",
    summary: "a blind pocket milled into a face",
    fields: &[
        AT,
        WIDTH,
        HEIGHT,
        CORNER_RADIUS,
        CENTRE,
        ROUND,
        Field::required("depth", Shape::Size, "depth from the face"),
        FACE,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct Recess {
    shape: Spanned<Path>,
    depth: Spanned<f64>,
    face: Face,
}

fn read(fields: &Fields, frame: &Frame) -> Option<Arc<dyn Feature>> {
    let shape = fields
        .exactly_one(&["at", "centre"])
        .and_then(|_| read_box_or_circle(fields, frame));
    let depth = fields.length("depth");
    let face = fields.face("face");
    Some(Arc::new(Recess {
        shape: shape?,
        depth: depth?,
        face: face?.value,
    }))
}

impl Feature for Recess {
    fn lower(&self, out: &mut Lowering) {
        let Some(area) = self.shape.value.bounds() else {
            return;
        };
        if !out.depth_fits(self.depth, "recess")
            || !area_is_inside(out, self.shape.span, area, "recess")
        {
            return;
        }
        let open = open_edges(&out.frame(), area);
        out.mill(
            self.shape.span,
            AreaKind::Recess,
            self.face,
            self.shape.value.clone(),
            self.depth.value,
            open,
        );
    }
}
