//! An opening cut right through.

use jigless_model::fact::Slot;
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::{Label, Receives};
use super::points::Points;
use super::shape::ShapeKeys;
use crate::lower::Lowering;
use crate::resolve::{Fields, KeySet, TrueFalse};

crate::fields! {
    struct CutoutKeys {
        shape: ShapeKeys,
        /// any other shape: its points
        outline: Option<Points>,
        receives: Receives,
        /// whether the corner of another part goes into its corners, so that a round tool must relieve them
        mating: TrueFalse = "false",
        _label: Label,
    }
    one of "at", "centre", "outline";
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "cutout",
    summary: "an opening cut right through; over an edge it shapes the outline",
    fields: CutoutKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = CutoutKeys::read(fields)?;
    let shape = match &keys.outline {
        Some(points) => points.path(fields.context(), &out.frame())?,
        None => keys.shape.path(fields, &out.frame())?,
    };
    if let Some(bounds) = shape.value.bounds() {
        // The narrower side of the slot is the room for the thickness.
        let (one, other) = (bounds.width(), bounds.height());
        let (width, depth) = (one.min(other), one.max(other));
        let placed = |length| Spanned::new(length, shape.span);
        let slot = Slot::Mortise;
        keys.receives
            .note(out, slot, placed(width), placed(depth), None);
    }
    out.cut_away(shape.span, shape.value, keys.mating);
    Some(())
}
