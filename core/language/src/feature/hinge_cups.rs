//! Cup hinge boring in a door.

use std::sync::Arc;

use jigless_model::fact::Fact;
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::operation::Depth;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;

use super::common::LABEL;
use super::{Feature, FeatureKind};
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape, read_spread};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "hinge_cups",
    summary: "cup hinge boring in a door",
    fields: &[
        Field::required("edge", Shape::Edge, "the edge that the hinges sit on"),
        Field::required(
            "at",
            Shape::Spread,
            "where along the edge the cups are centred",
        ),
        Field::with_default("diameter", Shape::Size, "35 mm", "diameter of the cup"),
        Field::with_default("depth", Shape::Size, "12.5 mm", "depth of the cup"),
        Field::required(
            "edge_gap",
            Shape::Distance,
            "from the door's edge to the rim of the cup, as the hinge's data sheet says",
        ),
        Field::optional(
            "screws",
            Shape::Map(&[
                Field::with_default(
                    "spacing",
                    Shape::Size,
                    "45 mm",
                    "distance between the two screws",
                ),
                Field::with_default(
                    "behind",
                    Shape::Distance,
                    "9.5 mm",
                    "how far behind the cup's centre they sit, away from the edge",
                ),
                Field::required("diameter", Shape::Size, "diameter of the pilot holes"),
                Field::required("depth", Shape::Size, "depth of the pilot holes"),
                Field::optional(
                    "length",
                    Shape::Size,
                    "length of the screw below the hinge, to hold against the door's thickness",
                ),
            ]),
            "pilot holes for the two screws of each cup",
        ),
        Field::with_default("face", Shape::Face, "back", "the inside of the door"),
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct HingeCups {
    edge: Edge,
    at: Vec<Spanned<f64>>,
    diameter: f64,
    depth: Spanned<f64>,
    edge_gap: Spanned<f64>,
    screws: Option<Screws>,
    face: Face,
}

#[derive(Debug)]
struct Screws {
    spacing: f64,
    behind: f64,
    diameter: f64,
    depth: Spanned<f64>,
    length: Option<Spanned<f64>>,
}

fn read(fields: &Fields, frame: &Frame) -> Option<Arc<dyn Feature>> {
    let edge = fields.edge("edge");
    let at = fields.required_node("at").and_then(|node| {
        let edge = edge?.value;
        read_spread(fields.context(), node, edge, frame.edge_length(edge))
    });
    let diameter = fields.length("diameter");
    let depth = fields.length("depth");
    let edge_gap = fields.length("edge_gap");
    let screws = if fields.has("screws") {
        fields
            .map("screws")
            .and_then(|screws| read_screws(&screws))
            .map(Some)
    } else {
        Some(None)
    };
    let face = fields.face("face");
    Some(Arc::new(HingeCups {
        edge: edge?.value,
        at: at?,
        diameter: diameter?.value,
        depth: depth?,
        edge_gap: edge_gap?,
        screws: screws?,
        face: face?.value,
    }))
}

fn read_screws(fields: &Fields) -> Option<Screws> {
    let (spacing, behind) = (fields.length("spacing"), fields.length("behind"));
    let (diameter, depth) = (fields.length("diameter"), fields.length("depth"));
    Some(Screws {
        spacing: spacing?.value,
        behind: behind?.value,
        diameter: diameter?.value,
        depth: depth?,
        length: fields.length("length"),
    })
}

impl Feature for HingeCups {
    fn lower(&self, out: &mut Lowering) {
        let frame = out.frame();
        let fits = out.depth_fits(self.depth, "hinge cup");
        let screws_fit = self
            .screws
            .as_ref()
            .is_none_or(|screws| out.depth_fits(screws.depth, "hinge screw hole"));
        if !fits || !screws_fit {
            return;
        }
        // The rim touches the line at `edge_gap`, so the centre is half a cup further in.
        let inward = self.edge_gap.value + self.diameter / 2.0;
        let unit = out.unit();
        out.working(format!(
            "cup centre from the {} edge: {} + {} / 2 = {}",
            self.edge.name(),
            unit.show(self.edge_gap.value),
            unit.show(self.diameter),
            unit.show(inward)
        ));
        out.working(format!(
            "wood left under the cup: {} - {} = {}",
            unit.show(frame.thickness),
            unit.show(self.depth.value),
            unit.show(frame.thickness - self.depth.value)
        ));
        if let Some(first) = self.at.first() {
            out.fit(Fitting::plain(
                FittingKind::Hinge,
                self.at.len(),
                first.span,
            ));
        }
        for at in &self.at {
            let centre = frame.from_edge(self.edge, at.value, inward);
            let depth = Depth::Blind(self.depth.value);
            out.drill(
                self.face,
                Spanned::new(centre, at.span),
                self.diameter,
                depth,
                None,
            );
            let Some(screws) = &self.screws else {
                continue;
            };
            for side in [-1.0, 1.0] {
                let along = at.value + side * screws.spacing / 2.0;
                let screw = frame.from_edge(self.edge, along, inward + screws.behind);
                let depth = Depth::Blind(screws.depth.value);
                out.drill(
                    self.face,
                    Spanned::new(screw, at.span),
                    screws.diameter,
                    depth,
                    None,
                );
            }
        }
    }

    fn facts(&self) -> Vec<Fact> {
        let mut facts = vec![Fact::HingeCups {
            edge: self.edge,
            at: self.at.clone(),
            edge_gap: self.edge_gap,
        }];
        if let Some(length) = self.screws.as_ref().and_then(|screws| screws.length) {
            facts.push(Fact::HardwareScrew {
                what: "hinge cup",
                length,
            });
        }
        facts
    }
}
