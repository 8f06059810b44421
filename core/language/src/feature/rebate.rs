//! A step along one or several edges.

use jigless_model::diag::Finding;
use jigless_model::fact::Slot;
use jigless_model::geom::{LENGTH_TOLERANCE, rectangle};
use jigless_model::operation::AreaKind;
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::area::{area_is_inside, open_edges, stops_fit, strip};
use super::common::{Label, OnFace, Receives, Stop};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Edges, Fields, KeySet, Map, Size, TrueFalse};

crate::fields! {
    struct RebateKeys {
        /// the edge, or a list of edges
        edge: Edges,
        /// how far it reaches in from the edge
        width: Spanned<Size>,
        /// depth from the face
        depth: Spanned<Size>,
        on: OnFace,
        /// keeps it away from the ends
        stop: Option<Map<Stop>>,
        receives: Receives,
        /// whether the corner of another part goes into its blind corners, so that a round tool must relieve them or
        /// they are squared by hand; always where it `receives` a part
        mating: TrueFalse = "false",
        _label: Label,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "rebate",
    summary: "a step along an edge",
    fields: RebateKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = RebateKeys::read(fields)?;
    let (width, depth) = (keys.width, keys.depth);
    let stop = keys.stop.unwrap_or_default();
    let mating = keys.mating || keys.receives.is_given();
    keys.receives.note(out, Slot::Rebate, width, depth, None);
    if !out.depth_fits(depth, "rebate") {
        return Some(());
    }
    let frame = out.frame();
    for edge in keys.edge {
        let across = frame.across(edge.value);
        if width.value >= across - LENGTH_TOLERANCE {
            let (wide, across) = (out.show(width.value), out.show(across));
            let message = format!("a rebate {wide} wide leaves no step on a part {across} across");
            out.find(
                Finding::error(codes::NOTHING_LEFT, width.span, message)
                    .fix(format!("keep it below {across}")),
            );
            break;
        }
        let area = strip(&frame, edge.value, 0.0, width.value, stop);
        if !stops_fit(out, edge, stop) || !area_is_inside(out, width.span, area, "rebate") {
            break;
        }
        let open = open_edges(&frame, area);
        let face = keys.on.face;
        let outline = rectangle(area);
        if mating {
            out.takes_corners(&outline);
        }
        out.mill(
            edge.span,
            AreaKind::Rebate,
            face,
            outline,
            depth.value,
            open,
        );
    }
    Some(())
}
