//! A free shape in place of the rectangle.

use super::FeatureKind;
use super::common::Label;
use super::points::Points;
use crate::lower::Lowering;
use crate::resolve::{Fields, KeySet};

crate::fields! {
    struct OutlineKeys {
        /// the points around the part, at most 50,000; each may carry a radius or an arc
        points: Points,
        _label: Label,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "outline",
    summary: "a free shape in place of the rectangle",
    fields: OutlineKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = OutlineKeys::read(fields)?;
    let path = keys.points.path(fields.context(), &out.frame())?;
    out.replace_outline(path.span, path.value);
    Some(())
}
