//! Rounded or cut-off corners.

use jigless_model::feature::CornerShape;
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::Label;
use crate::lower::Lowering;
use crate::resolve::{Corners, Fields, KeySet, Size};

crate::fields! {
    struct CornerKeys {
        /// the corner, or a list of corners
        which: Corners,
        /// rounds it
        radius: Option<Spanned<Size>>,
        /// cuts it off at 45 degrees, so far from the corner
        chamfer: Option<Spanned<Size>>,
        _label: Label,
    }
    one of "radius", "chamfer";
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "corner",
    summary: "a rounded or cut-off corner of the part",
    fields: CornerKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = CornerKeys::read(fields)?;
    let rounded = keys.radius.map(CornerShape::Radius);
    let shape = rounded.or(keys.chamfer.map(CornerShape::Chamfer))?;
    for corner in keys.which {
        out.shape_corner(corner, shape);
    }
    Some(())
}
