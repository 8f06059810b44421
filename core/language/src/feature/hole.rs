//! A drilled hole.

use std::sync::Arc;

use jigless_model::fact::Fact;
use jigless_model::hardware::Fitting;
use jigless_model::operation::Depth;
use jigless_model::side::Face;
use jigless_model::source::Spanned;

use super::common::{
    COUNTERBORE, COUNTERSINK, DEPTH_OR_THROUGH, DIAMETER, FACE, INSERT, LABEL, PlacedMouth, SCREW,
    read_fixings, read_mouth,
};
use super::{Feature, FeatureKind};
use crate::fitting::HARDWARE;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Place, Shape};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "hole",
    summary: "a drilled hole",
    fields: &[
        Field::required("at", Shape::Place, "centre of the hole"),
        DIAMETER,
        DEPTH_OR_THROUGH,
        FACE,
        COUNTERSINK,
        COUNTERBORE,
        HARDWARE,
        SCREW,
        INSERT,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct Hole {
    at: Place,
    bore: Bore,
}

/// What is drilled, wherever it goes.
#[derive(Debug)]
pub(super) struct Bore {
    face: Face,
    diameter: Spanned<f64>,
    depth: Spanned<Depth>,
    mouth: Option<PlacedMouth>,
    hardware: Option<Fitting>,
    facts: Vec<Fact>,
}

fn read(fields: &Fields, _: &Frame) -> Option<Arc<dyn Feature>> {
    let at = fields
        .required_node("at")
        .and_then(|node| Place::read(fields.context(), node));
    let bore = Bore::read(fields);
    Some(Arc::new(Hole {
        at: at?,
        bore: bore?,
    }))
}

impl Bore {
    /// Reads diameter, depth, face and mouth.
    pub(super) fn read(fields: &Fields) -> Option<Bore> {
        let face = fields.face("face");
        let diameter = fields.length("diameter");
        let depth = fields.depth("depth");
        let mouth = read_mouth(fields, diameter, depth);
        let hardware = crate::fitting::read_hardware(fields);
        let mouth = mouth.ok()?;
        let facts = read_fixings(
            fields,
            diameter,
            depth,
            mouth.map(|placed| placed.mouth.value),
        );
        Some(Bore {
            face: face?.value,
            diameter: diameter?,
            depth: depth?,
            hardware: hardware.ok()?,
            mouth,
            facts: facts.ok()?,
        })
    }

    /// Whether it can be made in this part; tells where it cannot.
    pub(super) fn fits(&self, out: &mut Lowering) -> bool {
        let bottom = match self.depth.value {
            Depth::Through => None,
            Depth::Blind(depth) => Some(Spanned::new(depth, self.depth.span)),
        };
        let mouth = self
            .mouth
            .map(|placed| placed.mouth.map(|m| m.depth(self.diameter.value)));
        // A tuple evaluates both, so that both faults are told.
        let (hole_fits, mouth_fits) = (
            bottom.is_none_or(|depth| out.depth_fits(depth, "hole")),
            mouth.is_none_or(|depth| out.depth_fits(depth, "mouth of the hole")),
        );
        hole_fits && mouth_fits
    }

    /// What it knows of screws and inserts.
    pub(super) fn facts(&self) -> Vec<Fact> {
        self.facts.clone()
    }

    /// Drills at a place of the part.
    pub(super) fn drill(&self, out: &mut Lowering, at: Spanned<jigless_model::geom::Point>) {
        let mouth = self.mouth.map(|placed| placed.mouth.value);
        out.drill(self.face, at, self.diameter.value, self.depth.value, mouth);
        if let Some(fitting) = &self.hardware {
            out.fit(fitting.clone());
        }
    }
}

impl Feature for Hole {
    fn lower(&self, out: &mut Lowering) {
        if self.bore.fits(out) {
            let centre = self.at.point(&out.frame());
            self.bore.drill(out, Spanned::new(centre, self.at.span));
        }
    }

    fn facts(&self) -> Vec<Fact> {
        self.bore.facts()
    }
}
