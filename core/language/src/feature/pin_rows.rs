//! Rows of holes for shelf pins.

use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::{Label, OnFace};
use crate::lower::Lowering;
use crate::resolve::{Distance, EdgeDistances, Fields, KeySet, Repeats, Size};

crate::fields! {
    struct PinKeys {
        /// a row along each of these edges, so far from it: `{left: 37, right: 37}`
        setback: EdgeDistances,
        /// the first hole, from the bottom or left end of the edge
        first: Spanned<Distance>,
        /// distance between neighbours
        step: Size = "32 mm",
        /// how many holes in each row
        count: Repeats,
        /// diameter of the holes
        diameter: Size = "5 mm",
        /// depth of the holes
        depth: Spanned<Size>,
        on: OnFace,
        _label: Label,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "pin_rows",
    summary: "rows of holes for shelf pins",
    fields: PinKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = PinKeys::read(fields)?;
    if !out.depth_fits(keys.depth, "shelf pin hole") {
        return Some(());
    }
    let frame = out.frame();
    for (edge, setback) in &keys.setback {
        for hole in 0..keys.count {
            let along = keys.first.value + f64::from(hole) * keys.step;
            let centre = frame.from_edge(edge.value, along, *setback);
            let centre = Spanned::new(centre, keys.first.span);
            out.drill_blind(keys.on.face, centre, keys.diameter, keys.depth);
        }
    }
    Some(())
}
