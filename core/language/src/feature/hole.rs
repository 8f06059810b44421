//! A drilled hole.

use jigless_model::fact::{Fact, cone_angle};
use jigless_model::geom::Point;
use jigless_model::hardware::Fitting;
use jigless_model::operation::{Depth, Mouth};
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::{
    Counterbore, Countersink, InsertKeys, Label, OnFace, ScrewKeys, mouth_fits, note_bought,
};
use crate::lower::Lowering;
use crate::resolve::{Fields, KeySet, Map, Place, Size};

crate::fields! {
    struct HoleKeys {
        /// centre of the hole
        at: Place,
        bore: BoreKeys,
        _label: Label,
    }
}

crate::fields! {
    /// What is drilled, wherever it goes.
    pub(super) struct BoreKeys {
        /// diameter of the drill
        diameter: Spanned<Size>,
        /// depth from the face
        depth: Spanned<Depth> = "through",
        on: OnFace,
        /// a cone for a screw head
        countersink: Option<Map<Countersink>>,
        /// a wider hole with a flat bottom for a screw head or plug
        counterbore: Option<Map<Counterbore>>,
        /// what goes into each hole, for the list of hardware
        hardware: Option<Map<Fitting>>,
        /// the screw that goes through this hole or into it
        screw: Option<Map<ScrewKeys>>,
        /// the threaded insert that goes into this hole
        insert: Option<Map<InsertKeys>>,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "hole",
    summary: "a drilled hole",
    fields: HoleKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let HoleKeys { at, bore, .. } = HoleKeys::read(fields)?;
    let centre = Spanned::new(at.point(&out.frame()), at.span);
    bore.drill(fields, out, &[centre])
}

impl BoreKeys {
    /// Drills at some places of the part, and reports what cannot be drilled in it.
    pub(super) fn drill(
        self,
        fields: &Fields,
        out: &mut Lowering,
        centres: &[Spanned<Point>],
    ) -> Option<()> {
        let (diameter, depth) = (self.diameter, self.depth);
        let mouth = self.mouth(fields).ok()?;
        if let Some(mouth) = mouth {
            mouth_fits(fields.context(), mouth, diameter, depth)?;
        }
        let shape = mouth.map(|mouth| mouth.value);
        // The screw is listed where nothing else is said to go into the hole.
        let hardware = match (&self.hardware, &self.screw) {
            (Some(fitting), _) => Some(Fitting::clone(fitting)),
            (None, Some(screw)) => Some(screw.bought()),
            (None, None) => None,
        };
        match self.screw {
            Some(screw) => out.know(screw.fact(diameter, depth, shape)),
            None => note_bought(out, self.hardware.as_ref(), None, diameter.value, shape),
        }
        if let Some(insert) = self.insert {
            out.know(Fact::Insert {
                wanted: insert.hole,
                length: insert.length,
                diameter,
                depth,
            });
        }
        let hole_fits = match depth.value {
            Depth::Through => true,
            Depth::Blind(blind) => out.depth_fits(Spanned::new(blind, depth.span), "hole"),
        };
        let mouth_fits = mouth.is_none_or(|mouth| {
            let deep = mouth.map(|mouth| mouth.depth(diameter.value));
            out.depth_fits(deep, "mouth of the hole")
        });
        if hole_fits && mouth_fits {
            for centre in centres {
                out.drill(self.on.face, *centre, diameter.value, depth.value, shape);
                if let Some(fitting) = &hardware {
                    out.fit(fitting.clone());
                }
            }
        }
        Some(())
    }

    /// The mouth that the plan asks for, if any.
    ///
    /// # Errors
    /// Where it asks for two, which has been reported.
    fn mouth(&self, fields: &Fields) -> Result<Option<Spanned<Mouth>>, ()> {
        match (&self.countersink, &self.counterbore) {
            (None, None) => Ok(None),
            (Some(cone), None) => Ok(Some(cone.diameter.map(|diameter| {
                Mouth::Countersink {
                    diameter,
                    angle: cone
                        .angle
                        .unwrap_or_else(|| cone_angle(fields.context().unit()))
                        .to_radians(),
                }
            }))),
            (None, Some(bore)) => Ok(Some(bore.diameter.map(|diameter| Mouth::Counterbore {
                diameter,
                depth: bore.depth,
            }))),
            (Some(_), Some(_)) => {
                fields.exactly_one(&["countersink", "counterbore"]);
                Err(())
            }
        }
    }
}
