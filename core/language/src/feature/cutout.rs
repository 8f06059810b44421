//! An opening cut right through.

use std::sync::Arc;

use jigless_model::fact::{Fact, Received, Slot};
use jigless_model::geom::Path;
use jigless_model::source::Spanned;

use super::common::{LABEL, RECEIVES, mating, read_receives};
use super::shape::{
    AT, CENTRE, CORNER_RADIUS, HEIGHT, ROUND, WIDTH, read_box_or_circle, read_points,
};
use super::{Feature, FeatureKind};
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape};

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
        RECEIVES,
        mating("false"),
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct Cutout {
    shape: Spanned<Path>,
    receives: Option<Spanned<String>>,
    mating: bool,
}

fn read(fields: &Fields, frame: &Frame) -> Option<Arc<dyn Feature>> {
    let receives = read_receives(fields);
    let shape = match fields.exactly_one(&["at", "centre", "outline"])? {
        "outline" => read_points(fields.context(), fields.node("outline")?, frame)?,
        _ => read_box_or_circle(fields, frame)?,
    };
    let mating = fields.word("mating")?.value == "true";
    Some(Arc::new(Cutout {
        shape,
        receives: receives.ok()?,
        mating,
    }))
}

impl Feature for Cutout {
    fn lower(&self, out: &mut Lowering) {
        let shape = self.shape.value.clone();
        if self.mating {
            out.cut_away_mating(self.shape.span, shape);
        } else {
            out.cut_away(self.shape.span, shape);
        }
    }

    fn facts(&self) -> Vec<Fact> {
        // The narrower side of the slot is the room for the thickness.
        let (Some(part), Some(bounds)) = (self.receives.clone(), self.shape.value.bounds()) else {
            return Vec::new();
        };
        let (one, other) = (bounds.width(), bounds.height());
        vec![Fact::Receives(Received {
            part,
            slot: Slot::Mortise,
            width: Spanned::new(one.min(other), self.shape.span),
            depth: Spanned::new(one.max(other), self.shape.span),
            edge: None,
        })]
    }
}
