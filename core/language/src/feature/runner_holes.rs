//! Screw holes of a drawer runner.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::fact::Fact;
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::operation::Depth;
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;

use super::common::{FACE, HARDWARE_SCREW, LABEL, read_hardware_screw};
use super::{Feature, FeatureKind};
use crate::codes;
use crate::fitting::HARDWARE;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape, Spread};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "runner_holes",
    summary: "screw holes of a drawer runner",
    fields: &[
        Field::required(
            "edge",
            Shape::Edge,
            "the front edge of the side: left or right",
        ),
        Field::required(
            "height",
            Shape::Distance,
            "height of the screw line above the bottom edge",
        ),
        Field::required(
            "setback",
            Shape::Distance,
            "from the front edge to the front end of the runner",
        ),
        Field::required(
            "offsets",
            Shape::Spread,
            "the screws, from the front end of the runner, as its data sheet says",
        ),
        Field::required("diameter", Shape::Size, "diameter of the pilot holes"),
        Field::required("depth", Shape::Size, "depth of the pilot holes"),
        HARDWARE_SCREW,
        FACE,
        Field::optional(
            "runner",
            Shape::Size,
            "length of the runner, for the list of hardware; give it on one of the two parts that a runner joins",
        ),
        HARDWARE,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct RunnerHoles {
    edge: Edge,
    height: f64,
    setback: f64,
    offsets: Vec<Spanned<f64>>,
    diameter: f64,
    depth: Spanned<f64>,
    face: Face,
    runner: Option<f64>,
    hardware: Option<Fitting>,
    screw: Option<Spanned<f64>>,
}

fn read(fields: &Fields, frame: &Frame) -> Option<Arc<dyn Feature>> {
    let edge = fields.edge("edge");
    let (height, setback) = (fields.length("height"), fields.length("setback"));
    if let Some(edge) = edge
        && !edge.value.is_upright()
    {
        fields.context().find(
            Finding::error(
                codes::WRONG_END,
                edge.span,
                format!(
                    "a runner starts at the left or right edge, not at the {}",
                    edge.value.name()
                ),
            )
            .fix("write left or right: the front edge of the side"),
        );
        return None;
    }
    let offsets = fields.required_node("offsets").and_then(|node| {
        let room = frame.width - setback?.value;
        // The runner lies along the width, so its screws are spread as along the bottom edge.
        let name = "the part behind the runner's front end";
        Spread::read(fields.context(), node)?.along(fields.context(), Edge::Bottom, room, name)
    });
    let (diameter, depth) = (fields.length("diameter"), fields.length("depth"));
    let face = fields.face("face");
    let runner = fields
        .has("runner")
        .then(|| fields.length("runner"))
        .flatten();
    let hardware = crate::fitting::read_hardware(fields);
    let screw = read_hardware_screw(fields);
    Some(Arc::new(RunnerHoles {
        edge: edge?.value,
        height: height?.value,
        setback: setback?.value,
        offsets: offsets?,
        diameter: diameter?.value,
        depth: depth?,
        face: face?.value,
        runner: runner.map(|length| length.value),
        hardware: hardware.ok()?,
        screw: screw.ok()?,
    }))
}

impl Feature for RunnerHoles {
    fn lower(&self, out: &mut Lowering) {
        if !out.depth_fits(self.depth, "runner screw hole") {
            return;
        }
        let frame = out.frame();
        if self.runner.is_some() {
            out.fit(Fitting {
                length: self.runner,
                ..Fitting::plain(FittingKind::Runner, 1, self.depth.span)
            });
        }
        if let Some(fitting) = &self.hardware {
            out.fit(fitting.times(self.offsets.len()));
        }
        for offset in &self.offsets {
            let inward = self.setback + offset.value;
            let centre = frame.from_edge(self.edge, self.height, inward);
            let depth = Depth::Blind(self.depth.value);
            out.drill(
                self.face,
                Spanned::new(centre, offset.span),
                self.diameter,
                depth,
                None,
            );
        }
    }

    fn facts(&self) -> Vec<Fact> {
        let screw = self.screw.map(|length| Fact::HardwareScrew {
            what: "runner",
            length,
        });
        screw.into_iter().collect()
    }
}
