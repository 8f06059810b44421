//! An edge cut off square.

use jigless_model::diag::Finding;
use jigless_model::operation::{Bevel, Work};
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::Label;
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Degrees, Edges, Fields, KeySet};

crate::fields! {
    struct BevelKeys {
        /// the edge, or a list of edges
        edge: Edges,
        /// tilt of the cut from square: above 0 the front face keeps its size, below 0 the back
        angle: Spanned<Degrees<-75, 75>>,
        _label: Label,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "bevel",
    summary: "an edge cut off square",
    fields: BevelKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let BevelKeys { edge, angle, .. } = BevelKeys::read(fields)?;
    if angle.value == 0.0 {
        out.find(
            Finding::error(
                codes::OUT_OF_RANGE,
                angle.span,
                "a bevel of 0 degrees is a square edge",
            )
            .fix("write the tilt from square, such as 45, or leave the bevel out"),
        );
        return Some(());
    }
    for Spanned { value: edge, span } in edge {
        let angle = angle.value.to_radians();
        out.push(span, Work::Bevel(Bevel { edge, angle }));
    }
    Some(())
}
