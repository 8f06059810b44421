//! Screw holes of a drawer runner.

use jigless_model::diag::Finding;
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::side::Edge;
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::{HardwareScrew, Label, OnFace};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Distance, Fields, KeySet, Map, Size, Spread};

crate::fields! {
    struct RunnerKeys {
        /// the front edge of the side: left or right
        edge: Spanned<Edge>,
        /// height of the screw line above the bottom edge
        height: Distance,
        /// from the front edge to the front end of the runner
        setback: Distance,
        /// the screws, from the front end of the runner, as its data sheet says
        offsets: Spread,
        /// diameter of the pilot holes
        diameter: Size,
        /// depth of the pilot holes
        depth: Spanned<Size>,
        screw: HardwareScrew,
        on: OnFace,
        /// length of the runner, for the list of hardware; give it on one of the two parts that a runner joins
        runner: Option<Size>,
        /// what goes into each hole, for the list of hardware
        hardware: Option<Map<Fitting>>,
        _label: Label,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "runner_holes",
    summary: "screw holes of a drawer runner",
    fields: RunnerKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = RunnerKeys::read(fields)?;
    let edge = keys.edge.value;
    if !edge.is_upright() {
        let edge = edge.name();
        let message = format!("a runner starts at the left or right edge, not at the {edge}");
        fields.context().find(
            Finding::error(codes::WRONG_END, keys.edge.span, message)
                .fix("write left or right: the front edge of the side"),
        );
        return None;
    }
    let frame = out.frame();
    let room = frame.width - keys.setback;
    // The runner lies along the width, so its screws are spread as along the bottom edge.
    let name = "the part behind the runner's front end";
    let offsets = keys
        .offsets
        .along(fields.context(), Edge::Bottom, room, name)?;
    keys.screw.note(
        out,
        "screw of the runner",
        keys.diameter,
        keys.hardware.as_ref(),
    );
    if !out.depth_fits(keys.depth, "runner screw hole") {
        return Some(());
    }
    if keys.runner.is_some() {
        out.fit(Fitting {
            length: keys.runner,
            ..Fitting::plain(FittingKind::Runner, 1, keys.depth.span)
        });
    }
    if let Some(fitting) = keys.screw.listed(keys.hardware.as_ref()) {
        out.fit(fitting.times(offsets.len()));
    }
    for offset in &offsets {
        let centre = frame.from_edge(edge, keys.height, keys.setback + offset.value);
        let centre = Spanned::new(centre, offset.span);
        out.drill_blind(keys.on.face, centre, keys.diameter, keys.depth);
    }
    Some(())
}
