//! Holes drilled into an edge, for dowels and screws.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::fact::Fact;
use jigless_model::hardware::Fitting;
use jigless_model::operation::{EdgeDrill, Work};
use jigless_model::side::Edge;
use jigless_model::source::Spanned;

use super::common::{DIAMETER, EDGE_SCREW, LABEL, read_edge_screw};
use super::{Feature, FeatureKind};
use crate::codes;
use crate::fitting::HARDWARE;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape, read_spread};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "edge_hole",
    summary: "holes drilled into an edge, parallel to the faces",
    fields: &[
        Field::required("edge", Shape::Edge, "the edge that is drilled"),
        Field::required(
            "along",
            Shape::Spread,
            "where along the edge: one place or several",
        ),
        DIAMETER,
        Field::required("depth", Shape::Size, "depth from the edge"),
        Field::with_default(
            "from_front",
            Shape::Size,
            "thickness / 2",
            "distance of the axis from the front face",
        ),
        HARDWARE,
        EDGE_SCREW,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct EdgeHole {
    edge: Spanned<Edge>,
    along: Vec<Spanned<f64>>,
    diameter: Spanned<f64>,
    depth: Spanned<f64>,
    from_front: Spanned<f64>,
    hardware: Option<Fitting>,
    screw: Option<Fact>,
}

fn read(fields: &Fields, frame: &Frame) -> Option<Arc<dyn Feature>> {
    let edge = fields.edge("edge");
    let along = fields.required_node("along").and_then(|node| {
        let edge = edge?.value;
        read_spread(fields.context(), node, edge, frame.edge_length(edge))
    });
    let diameter = fields.length("diameter");
    let depth = fields.length("depth");
    let from_front = fields.length("from_front");
    let hardware = crate::fitting::read_hardware(fields);
    let screw = read_edge_screw(fields, diameter, depth);
    Some(Arc::new(EdgeHole {
        edge: edge?,
        along: along?,
        diameter: diameter?,
        depth: depth?,
        from_front: from_front?,
        hardware: hardware.ok()?,
        screw: screw.ok()?,
    }))
}

impl Feature for EdgeHole {
    fn lower(&self, out: &mut Lowering) {
        let unit = out.unit();
        let frame = out.frame();
        let radius = self.diameter.value / 2.0;
        let from_back = frame.thickness - self.from_front.value;
        if self.from_front.value < radius || from_back < radius {
            let nearer = self.from_front.value.min(from_back);
            out.find(
                Finding::error(
                    codes::HOLE_BREAKS_FACE,
                    self.diameter.span,
                    format!(
                        "a hole of {} whose axis is {} from a face breaks through that face",
                        unit.show(self.diameter.value),
                        unit.show(nearer)
                    ),
                )
                .label(self.from_front.span, "the axis")
                .fix(format!(
                    "keep the diameter below {} here, or move the axis to the middle ({})",
                    unit.show((2.0 * nearer).max(0.0)),
                    unit.show(frame.thickness / 2.0)
                )),
            );
            return;
        }
        let across = frame.across(self.edge.value);
        if self.depth.value >= across {
            out.find(
                Finding::error(
                    codes::DEPTH_BEYOND_PART,
                    self.depth.span,
                    format!(
                        "a hole {} deep goes through the part, which is {} across here",
                        unit.show(self.depth.value),
                        unit.show(across)
                    ),
                )
                .fix(format!("keep the depth below {}", unit.show(across))),
            );
            return;
        }
        if let Some(fitting) = &self.hardware {
            out.fit(fitting.times(self.along.len()));
        }
        for along in &self.along {
            let work = Work::EdgeDrill(EdgeDrill {
                id: String::new(),
                edge: self.edge.value,
                along: along.value,
                from_front: self.from_front.value,
                diameter: self.diameter.value,
                depth: self.depth.value,
            });
            out.push(along.span, work);
        }
    }

    fn facts(&self) -> Vec<Fact> {
        self.screw.clone().into_iter().collect()
    }
}
