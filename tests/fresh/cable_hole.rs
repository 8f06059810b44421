//! A hole for a cable, always right through.

use jigless_model::operation::Depth;
use jigless_model::side::Face;
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::Label;
use crate::lower::Lowering;
use crate::resolve::{Fields, KeySet, Place, Size};

crate::fields! {
    struct CableHoleKeys {
        /// centre of the hole
        at: Place,
        /// diameter of the hole
        diameter: Size = "60 mm" [CommonPractice],
        _label: Label,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "cable_hole",
    summary: "a hole for a cable",
    fields: CableHoleKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = CableHoleKeys::read(fields)?;
    let centre = Spanned::new(keys.at.point(&out.frame()), keys.at.span);
    out.drill(Face::Front, centre, keys.diameter, Depth::Through, None);
    Some(())
}
