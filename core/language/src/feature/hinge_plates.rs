//! The plate holes of cup hinges in a cabinet side.

use jigless_model::fact::Fact;
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::side::Edge;
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::{HardwareScrew, Label, OnFace};
use crate::lower::Lowering;
use crate::resolve::{Fields, KeySet, Size, Spread};

crate::fields! {
    struct PlateKeys {
        /// the front edge of the side, where the door closes
        edge: Edge,
        /// where along the edge the plates are centred
        at: Spread,
        /// distance of the hole line from the edge; for an inset door add the door's thickness
        setback: Size = "37 mm",
        /// distance between the two holes of a plate
        spacing: Size = "32 mm",
        /// diameter of the holes
        diameter: Size = "5 mm",
        /// depth of the holes
        depth: Spanned<Size> = "12 mm",
        screw: HardwareScrew,
        on: OnFace,
        _label: Label,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "hinge_plates",
    summary: "plate holes of cup hinges in a cabinet side",
    fields: PlateKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = PlateKeys::read(fields)?;
    let (edge, frame) = (keys.edge, out.frame());
    let run = frame.edge_length(edge);
    let places = keys.at.on_edge(fields.context(), edge, run)?;
    let at = places.clone();
    out.know(Fact::HingePlates { edge, at });
    keys.screw
        .note(out, "screw of the hinge plate", keys.diameter, None);
    if !out.depth_fits(keys.depth, "hinge plate hole") {
        return Some(());
    }
    let kind = FittingKind::HingePlate;
    out.fit(Fitting::plain(kind, places.len(), keys.depth.span));
    if let Some(screw) = keys.screw.listed(None) {
        out.fit(screw.times(2 * places.len()));
    }
    for at in &places {
        for side in [-1.0, 1.0] {
            let along = at.value + side * keys.spacing / 2.0;
            let centre = frame.from_edge(edge, along, keys.setback);
            let centre = Spanned::new(centre, at.span);
            out.drill_blind(keys.on.face, centre, keys.diameter, keys.depth);
        }
    }
    Some(())
}
