//! A blind pocket milled into a face.

use jigless_model::operation::AreaKind;
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::area::{area_is_inside, open_edges};
use super::common::{Label, OnFace};
use super::shape::ShapeKeys;
use crate::lower::Lowering;
use crate::resolve::{Fields, KeySet, Size};

crate::fields! {
    struct RecessKeys {
        shape: ShapeKeys,
        /// depth from the face
        depth: Spanned<Size>,
        on: OnFace,
        _label: Label,
    }
    one of "at", "centre";
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "recess",
    summary: "a blind pocket milled into a face",
    fields: RecessKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let RecessKeys {
        shape, depth, on, ..
    } = RecessKeys::read(fields)?;
    let path = shape.path(fields, &out.frame())?;
    let area = path.value.bounds()?;
    if out.depth_fits(depth, "recess") && area_is_inside(out, path.span, area, "recess") {
        let open = open_edges(&out.frame(), area);
        let kind = AreaKind::Recess;
        out.mill(path.span, kind, on.face, path.value, depth.value, open);
    }
    Some(())
}
