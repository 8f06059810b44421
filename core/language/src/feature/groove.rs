//! A groove along the width or height; a housing where it crosses the grain.

use jigless_model::diag::Finding;
use jigless_model::fact::Slot;
use jigless_model::geom::rectangle;
use jigless_model::operation::AreaKind;
use jigless_model::side::Edge;
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::area::{area_is_inside, open_edges, stops_fit, strip};
use super::common::{Label, OnFace, Receives, Stop};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{EdgeDistances, Fields, KeySet, Map, Size, TrueFalse};

jigless_model::words! {
    /// Which way a groove runs.
    enum Along {
        Width = "width",
        Height = "height",
    }
}

crate::key_words!(Along);

crate::fields! {
    struct GrooveKeys {
        /// which way it runs
        along: Spanned<Along>,
        /// the edge that it is measured from, and the distance to its near side: `{bottom: 8}`
        from: EdgeDistances,
        /// width of the groove
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
    key: "groove",
    summary: "a groove along the part; a housing where it crosses the grain",
    fields: GrooveKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = GrooveKeys::read(fields)?;
    let (from, distance) = one_edge(fields, &keys)?;
    let (width, depth) = (keys.width, keys.depth);
    let stop = keys.stop.unwrap_or_default();
    let mating = keys.mating || keys.receives.is_given();
    keys.receives.note(out, Slot::Groove, width, depth, None);
    if !out.depth_fits(depth, "groove") || !stops_fit(out, from, stop) {
        return Some(());
    }
    let area = strip(&out.frame(), from.value, distance, width.value, stop);
    if area_is_inside(out, width.span, area, "groove") {
        let open = open_edges(&out.frame(), area);
        let face = keys.on.face;
        let outline = rectangle(area);
        if mating {
            out.takes_corners(&outline);
        }
        out.mill(
            width.span,
            AreaKind::Groove,
            face,
            outline,
            depth.value,
            open,
        );
    }
    Some(())
}

/// The one edge that it is measured from, and how far it is from there; reports two, and of one that it runs into.
fn one_edge(fields: &Fields, keys: &GrooveKeys) -> Option<(Spanned<Edge>, f64)> {
    let [(edge, distance)] = keys.from.as_slice() else {
        fields.context().find(
            Finding::error(
                codes::TOO_MANY_KEYS,
                keys.from[1].0.span,
                "a groove is measured from one edge",
            )
            .label(keys.from[0].0.span, "already measured from here")
            .fix("keep one of them"),
        );
        return None;
    };
    // A groove along the width is so far from the top or the bottom; from left or right says nothing.
    let (upright, one, other) = match keys.along.value {
        Along::Width => (false, "bottom", "top"),
        Along::Height => (true, "left", "right"),
    };
    if edge.value.is_upright() == upright {
        return Some((*edge, *distance));
    }
    let (along, wrong) = (keys.along.value.name(), edge.value.name());
    let message = format!("a groove along the {along} cannot be measured from the {wrong} edge");
    fields.context().find(
        Finding::error(codes::WRONG_END, edge.span, message)
            .label(keys.along.span, "which way it runs")
            .fix(format!("measure from {one} or {other}")),
    );
    None
}
