//! A step along one or several edges.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::fact::{Fact, Received, Slot};
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::operation::AreaKind;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;

use super::common::{FACE, LABEL, RECEIVES, read_receives};
use super::groove::{STOP, Stop, area_is_inside, open_edges, read_stop, stops_fit, strip};
use super::{Feature, FeatureKind};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "rebate",
    summary: "a step along an edge",
    fields: &[
        Field::required("edge", Shape::Edges, "the edge, or a list of edges"),
        Field::required("width", Shape::Size, "how far it reaches in from the edge"),
        Field::required("depth", Shape::Size, "depth from the face"),
        FACE,
        STOP,
        RECEIVES,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct Rebate {
    edges: Vec<Spanned<Edge>>,
    width: Spanned<f64>,
    depth: Spanned<f64>,
    face: Face,
    stop: Stop,
    receives: Option<Spanned<String>>,
}

fn read(fields: &Fields, _: &Frame) -> Option<Arc<dyn Feature>> {
    let edges = fields.edges("edge");
    let width = fields.length("width");
    let depth = fields.length("depth");
    let face = fields.face("face");
    let stop = read_stop(fields);
    let receives = read_receives(fields);
    Some(Arc::new(Rebate {
        edges: edges?,
        width: width?,
        depth: depth?,
        face: face?.value,
        stop: stop?,
        receives: receives.ok()?,
    }))
}

impl Feature for Rebate {
    fn lower(&self, out: &mut Lowering) {
        let frame = out.frame();
        if !out.depth_fits(self.depth, "rebate") {
            return;
        }
        for edge in &self.edges {
            let area = strip(&frame, edge.value, 0.0, self.width.value, self.stop);
            let across = frame.across(edge.value);
            if self.width.value >= across - LENGTH_TOLERANCE {
                let unit = out.unit();
                out.find(
                    Finding::error(
                        codes::NOTHING_LEFT,
                        self.width.span,
                        format!(
                            "a rebate {} wide leaves no step on a part {} across",
                            unit.show(self.width.value),
                            unit.show(across)
                        ),
                    )
                    .fix(format!("keep it below {}", unit.show(across))),
                );
                return;
            }
            if !stops_fit(out, *edge, self.stop)
                || !area_is_inside(out, self.width.span, area, "rebate")
            {
                return;
            }
            out.mill(
                edge.span,
                AreaKind::Rebate,
                self.face,
                jigless_model::geom::rectangle(area),
                self.depth.value,
                open_edges(&frame, area),
            );
        }
    }

    fn facts(&self) -> Vec<Fact> {
        let received = self.receives.clone().map(|part| {
            Fact::Receives(Received {
                part,
                slot: Slot::Rebate,
                width: self.width,
                depth: self.depth,
                edge: None,
            })
        });
        received.into_iter().collect()
    }
}
