//! The plate of a caster and its screw holes.

use jigless_model::fact::cone_angle;
use jigless_model::geom::{Bounds, Point, rectangle};
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::operation::{Depth, Mark, Mouth, Work};
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::{Label, OnFace, mouth_fits, note_bought};
use crate::lower::Lowering;
use crate::resolve::{Fields, KeySet, Map, Place, Size};

crate::fields! {
    struct CasterKeys {
        /// centre of the plate
        at: Place,
        /// size of the plate along the width
        width: Size,
        /// size of the plate along the height
        height: Size,
        /// distance of its holes along the width
        across: Size,
        /// distance of its holes along the height
        up: Size,
        /// diameter of the drill
        diameter: Size,
        /// depth of the holes, or `through` for bolts
        depth: Spanned<Depth>,
        on: OnFace,
        /// diameter of a cone on the other face, for the heads of bolts that another part stands on; the holes are then
        /// drilled from there
        heads: Option<Spanned<Size>>,
        /// what goes into each hole, for the list of hardware
        hardware: Option<Map<Fitting>>,
        _label: Label,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "caster_plate",
    summary: "the plate of a caster: its outline in pencil and its four screw holes",
    fields: CasterKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = CasterKeys::read(fields)?;
    let (depth, face) = (keys.depth, keys.on.face);
    if let Depth::Blind(blind) = depth.value
        && !out.depth_fits(Spanned::new(blind, depth.span), "hole")
    {
        return Some(());
    }
    let (centre, span) = (keys.at.point(&out.frame()), keys.at.span);
    let half = Point::new(keys.width, keys.height) * 0.5;
    let plate = Mark {
        face,
        lines: vec![rectangle(Bounds::new(centre - half, centre + half))],
        text: Some((centre, "caster".to_owned())),
    };
    out.push(span, Work::Mark(plate));
    let mouth = keys.heads.map(|diameter| {
        diameter.map(|diameter| Mouth::Countersink {
            diameter,
            angle: cone_angle(fields.context().unit()).to_radians(),
        })
    });
    if let Some(mouth) = mouth {
        let hole = Spanned::new(keys.diameter, span);
        mouth_fits(fields.context(), mouth, hole, depth)?;
        let deep = mouth.map(|mouth| mouth.depth(keys.diameter));
        if !out.depth_fits(deep, "mouth of the hole") {
            return Some(());
        }
    }
    let drilled = if mouth.is_some() {
        face.opposite()
    } else {
        face
    };
    let mouth = mouth.map(|mouth| mouth.value);
    for (x, y) in [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)] {
        let hole = centre + Point::new(x * keys.across, y * keys.up);
        let hole = Spanned::new(hole, span);
        out.drill(drilled, hole, keys.diameter, depth.value, mouth);
    }
    let what = Some("screw of the caster");
    let what = what.filter(|_| matches!(depth.value, Depth::Blind(_)));
    note_bought(out, keys.hardware.as_ref(), what, keys.diameter, None);
    out.fit(Fitting::plain(FittingKind::Caster, 1, span));
    if let Some(fitting) = &keys.hardware {
        out.fit(fitting.times(4));
    }
    Some(())
}
