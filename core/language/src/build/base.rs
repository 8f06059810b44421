//! A base on casters: a panel with four caster plates on its underside.
//!
//! | what | formula |
//! |---|---|
//! | middle of each caster | `inset` from both edges of its corner (3 in, common practice, no source) |
//! | screws | the longest that is sold and stays 3 mm short of the panel's thickness |
//! | surface that others stand on | caster height and the panel's thickness above the floor |
//!
//! A base standing on one caster less carries half of everything on two that lie across from each other (statics of a
//! rigid rectangle), so each caster's own limit is held against half the whole, not a quarter.

use super::{BuildContext, BuilderKind, Keys, PartDraft, hardware, length, point, text};
use crate::codes;
use crate::resolve::{Fields, Here, KeySet, Map, Size};
use crate::sold::{self, Wanted};
use jigless_model::diag::Finding;
use jigless_model::hardware::FittingKind;
use jigless_model::plan::{Grain, Stock};
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;
use jigless_model::units::Unit;
use jigless_model::whole::{Direction, Placement, Triple};
use std::sync::Arc;

crate::fields! {
    struct BaseKeys {
        here: Here,
        /// what it is made of
        stock: Arc<Stock>,
        /// size to the right
        width: Size,
        /// size from back to front
        depth: Size,
        /// from the floor to the upper face of the caster's plate
        caster_height: Size,
        /// size of a plate, from the caster at hand
        plate: Map<BothWays>,
        /// distances of a plate's holes, from the caster at hand
        holes: Map<BothWays>,
        /// from the edges to the middle of each caster
        inset: Spanned<Size> = "3 in" [CommonPractice],
        /// diameter of through holes for bolts with flat heads, in place of screws; their heads lie flush in the upper face,
        /// on which others stand
        bolts: Option<Size>,
        /// diameter of the cones for the heads of the bolts; twice that of the holes where nothing is said
        bolt_heads: Option<Size> [CommonPractice],
        /// pilot holes for 5 mm screws
        pilot: Size = "3.5 mm" [CommonPractice],
        /// where its lower left back corner is, at the floor; 0, 0, 0 where nothing is said
        place: Option<Triple>,
    }
}

crate::fields! {
    struct BothWays {
        /// along the base's width
        along_width: Size,
        /// from back to front
        along_depth: Size,
    }
}

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "base_with_casters",
    summary: "a panel on four casters, with the plates' outlines and screw holes",
    fields: BaseKeys::FIELDS,
    build,
};

/// Wood over the tip of a screw, in millimetres (common practice, no source).
const SKIN: f64 = 3.0;
/// The least that a screw of a caster holds in, in millimetres (common practice, no source).
const THREAD: f64 = 10.0;

fn build(fields: &Fields, built: &mut BuildContext) -> Option<()> {
    let keys = BaseKeys::read(fields)?;
    let (plate, holes) = (&keys.plate, &keys.holes);
    let inset = keys.inset.value;
    let least = plate.along_width.max(plate.along_depth) / 2.0;
    if inset < least {
        built.find(
            Finding::error(
                codes::NO_ROOM,
                keys.inset.span,
                format!(
                    "a plate of {} by {} reaches over the edge",
                    built.show(plate.along_width),
                    built.show(plate.along_depth)
                ),
            )
            .fix(format!("keep `inset` at {} or more", built.show(least))),
        );
        return None;
    }
    let span = built.span;
    let fixing: Keys = match keys.bolts {
        Some(bolt) => {
            let gauge = jigless_model::units::decimal(bolt, 2);
            vec![
                ("diameter", length(bolt)),
                ("depth", text("through")),
                ("heads", length(keys.bolt_heads.unwrap_or(2.0 * bolt))),
                (
                    "hardware",
                    hardware(span, FittingKind::Bolt, None, Some(&gauge)),
                ),
            ]
        }
        None => screws(&keys, built)?,
    };
    let (right, front) = (keys.width - inset, keys.depth - inset);
    let middles = [
        (inset, inset),
        (right, inset),
        (right, front),
        (inset, front),
    ];
    let features = middles.into_iter().enumerate().map(|(index, (x, y))| {
        let mut own = vec![
            ("at", point(span, x, y)),
            ("width", length(plate.along_width)),
            ("height", length(plate.along_depth)),
            ("across", length(holes.along_width)),
            ("up", length(holes.along_depth)),
        ];
        own.extend(fixing.iter().cloned());
        own.push(("label", text(&format!("caster {}", index + 1))));
        ("caster_plate", own)
    });
    let [x, y, z] = keys.place.unwrap_or_default();
    let up = y + keys.caster_height;
    let draft = PartDraft {
        title: "Base".to_owned(),
        stock: keys.stock.id.clone(),
        width: keys.width,
        height: keys.depth,
        grain: Grain::Width,
        places: vec![Placement {
            at: [x, up, z],
            width: Direction::Left,
            height: Direction::Back,
        }],
        faces: vec![(Face::Front, "underside"), (Face::Back, "upper face")],
        edges: vec![(Edge::Bottom, "front edge")],
        features: features.collect(),
        ..PartDraft::new()
    };
    built.named_part(built.name.to_owned(), draft);
    built.surface([x, up + keys.stock.thickness, z]);
    Some(())
}

fn screws(keys: &BaseKeys, built: &BuildContext) -> Option<Keys> {
    let thickness = keys.stock.thickness;
    let gauge = match built.context.unit() {
        Unit::Inch => "#10",
        Unit::Millimetre => "5",
    };
    let wanted = Wanted {
        least: THREAD,
        most: thickness - SKIN,
        longest: true,
        ..Wanted::ANY
    };
    let Some(screw) = wanted.choose(&sold::screws(&built.context)) else {
        built.find(
            Finding::error(
                codes::NO_SCREW,
                keys.here,
                format!(
                    "no usual screw holds a caster in {} of wood",
                    built.show(thickness)
                ),
            )
            .fix("write `bolts:` with their diameter, or use thicker stock"),
        );
        return None;
    };
    let takes = hardware(built.span, FittingKind::Screw, Some(screw), Some(gauge));
    Some(vec![
        ("diameter", length(keys.pilot)),
        ("depth", length((screw + 1.0).min(thickness - 1.0))),
        ("hardware", takes),
    ])
}
