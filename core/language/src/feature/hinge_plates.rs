//! The plate holes of cup hinges in a cabinet side.

use std::sync::Arc;

use jigless_model::fact::Fact;
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::operation::Depth;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;

use super::common::{FACE, HARDWARE_SCREW, LABEL, read_hardware_screw};
use super::{Feature, FeatureKind};
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape, read_spread};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "hinge_plates",
    summary: "plate holes of cup hinges in a cabinet side",
    fields: &[
        Field::required(
            "edge",
            Shape::Edge,
            "the front edge of the side, where the door closes",
        ),
        Field::required(
            "at",
            Shape::Spread,
            "where along the edge the plates are centred",
        ),
        Field::with_default(
            "setback",
            Shape::Size,
            "37 mm",
            "distance of the hole line from the edge; for an inset door add the door's thickness",
        ),
        Field::with_default(
            "spacing",
            Shape::Size,
            "32 mm",
            "distance between the two holes of a plate",
        ),
        Field::with_default("diameter", Shape::Size, "5 mm", "diameter of the holes"),
        Field::with_default("depth", Shape::Size, "12 mm", "depth of the holes"),
        HARDWARE_SCREW,
        FACE,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct HingePlates {
    edge: Edge,
    at: Vec<Spanned<f64>>,
    setback: f64,
    spacing: f64,
    diameter: f64,
    depth: Spanned<f64>,
    face: Face,
    screw: Option<Spanned<f64>>,
}

fn read(fields: &Fields, frame: &Frame) -> Option<Arc<dyn Feature>> {
    let edge = fields.edge("edge");
    let at = fields.required_node("at").and_then(|node| {
        let edge = edge?.value;
        read_spread(fields.context(), node, edge, frame.edge_length(edge))
    });
    let (setback, spacing) = (fields.length("setback"), fields.length("spacing"));
    let (diameter, depth) = (fields.length("diameter"), fields.length("depth"));
    let face = fields.face("face");
    let screw = read_hardware_screw(fields);
    Some(Arc::new(HingePlates {
        edge: edge?.value,
        at: at?,
        setback: setback?.value,
        spacing: spacing?.value,
        diameter: diameter?.value,
        depth: depth?,
        face: face?.value,
        screw: screw.ok()?,
    }))
}

impl Feature for HingePlates {
    fn lower(&self, out: &mut Lowering) {
        if !out.depth_fits(self.depth, "hinge plate hole") {
            return;
        }
        let frame = out.frame();
        out.fit(Fitting::plain(
            FittingKind::HingePlate,
            self.at.len(),
            self.depth.span,
        ));
        for at in &self.at {
            for side in [-1.0, 1.0] {
                let along = at.value + side * self.spacing / 2.0;
                let centre = frame.from_edge(self.edge, along, self.setback);
                let depth = Depth::Blind(self.depth.value);
                out.drill(
                    self.face,
                    Spanned::new(centre, at.span),
                    self.diameter,
                    depth,
                    None,
                );
            }
        }
    }

    fn facts(&self) -> Vec<Fact> {
        let mut facts = vec![Fact::HingePlates {
            edge: self.edge,
            at: self.at.clone(),
        }];
        facts.extend(self.screw.map(|length| Fact::HardwareScrew {
            what: "hinge plate",
            length,
        }));
        facts
    }
}
