//! Cup hinge boring in a door.

use jigless_model::fact::{Fact, Fastener};
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::Label;
use crate::lower::Lowering;
use crate::resolve::{Distance, Fields, KeySet, Map, Size, Spread};

crate::fields! {
    struct CupKeys {
        /// the edge that the hinges sit on
        edge: Edge,
        /// where along the edge the cups are centred
        at: Spread,
        /// diameter of the cup
        diameter: Size = "35 mm",
        /// depth of the cup
        depth: Spanned<Size> = "12.5 mm",
        /// from the door's edge to the rim of the cup, as the hinge's data sheet says
        edge_gap: Spanned<Distance>,
        /// pilot holes for the two screws of each cup
        screws: Option<Map<ScrewsKeys>>,
        /// the inside of the door
        face: Face = "back",
        _label: Label,
    }
}

crate::fields! {
    struct ScrewsKeys {
        /// distance between the two screws
        spacing: Size = "45 mm",
        /// how far behind the cup's centre they sit, away from the edge
        behind: Distance = "9.5 mm",
        /// diameter of the pilot holes
        diameter: Size,
        /// depth of the pilot holes
        depth: Spanned<Size>,
        /// length of the screw below the hinge, to hold against the door's thickness
        length: Option<Spanned<Size>>,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "hinge_cups",
    summary: "cup hinge boring in a door",
    fields: CupKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = CupKeys::read(fields)?;
    let (edge, frame) = (keys.edge, out.frame());
    let run = frame.edge_length(edge);
    let places = keys.at.on_edge(fields.context(), edge, run)?;
    out.know(Fact::HingeCups {
        edge,
        at: places.clone(),
        edge_gap: keys.edge_gap,
    });
    if let Some((screws, length)) = keys.screws.as_ref().and_then(|s| Some((s, s.length?))) {
        out.know(Fact::Fastener(Fastener {
            kind: FittingKind::Screw,
            what: "screw of the hinge cup",
            length,
            gauge: None,
            diameter: screws.diameter,
            without_hole: false,
            sunk: 0.0,
        }));
    }
    let fits = out.depth_fits(keys.depth, "hinge cup");
    let screws_fit = keys
        .screws
        .as_ref()
        .is_none_or(|screws| out.depth_fits(screws.depth, "hinge screw hole"));
    if !fits || !screws_fit {
        return Some(());
    }
    // The rim touches the line at `edge_gap`, so the centre is half a cup further in.
    let inward = keys.edge_gap.value + keys.diameter / 2.0;
    let (gap, cup) = (out.show(keys.edge_gap.value), out.show(keys.diameter));
    let sum = format!("{gap} + {cup} / 2 = {}", out.show(inward));
    out.working_from("cup centre", edge, sum);
    let (thick, deep) = (out.show(frame.thickness), out.show(keys.depth.value));
    let left = out.show(frame.thickness - keys.depth.value);
    out.working(format!(
        "wood left under the cup: {thick} - {deep} = {left}"
    ));
    if let Some(first) = places.first() {
        let hinges = Fitting::plain(FittingKind::Hinge, places.len(), first.span);
        out.fit(hinges);
    }
    for at in &places {
        let centre = Spanned::new(frame.from_edge(edge, at.value, inward), at.span);
        out.drill_blind(keys.face, centre, keys.diameter, keys.depth);
        let Some(screws) = &keys.screws else {
            continue;
        };
        for side in [-1.0, 1.0] {
            let along = at.value + side * screws.spacing / 2.0;
            let centre = frame.from_edge(edge, along, inward + screws.behind);
            let centre = Spanned::new(centre, at.span);
            out.drill_blind(keys.face, centre, screws.diameter, screws.depth);
        }
    }
    Some(())
}
