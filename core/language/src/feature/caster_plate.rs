//! The plate of a caster and its screw holes.

use std::sync::Arc;

use jigless_model::geom::{Bounds, Point, rectangle};
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::operation::{Depth, Mark, Work};
use jigless_model::side::Face;
use jigless_model::source::Spanned;

use super::common::{DIAMETER, FACE, LABEL};
use super::{Feature, FeatureKind};
use crate::fitting::HARDWARE;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Place, Shape};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "caster_plate",
    summary: "the plate of a caster: its outline in pencil and its four screw holes",
    fields: &[
        Field::required("at", Shape::Place, "centre of the plate"),
        Field::required("width", Shape::Size, "size of the plate along the width"),
        Field::required("height", Shape::Size, "size of the plate along the height"),
        Field::required(
            "across",
            Shape::Size,
            "distance of its holes along the width",
        ),
        Field::required("up", Shape::Size, "distance of its holes along the height"),
        DIAMETER,
        Field::required(
            "depth",
            Shape::Depth,
            "depth of the holes, or `through` for bolts",
        ),
        FACE,
        HARDWARE,
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct CasterPlate {
    at: Place,
    plate: Point,
    holes: Point,
    diameter: f64,
    depth: Spanned<Depth>,
    face: Face,
    hardware: Option<Fitting>,
}

fn read(fields: &Fields, _: &Frame) -> Option<Arc<dyn Feature>> {
    let at = fields
        .required_node("at")
        .and_then(|node| Place::read(fields.context(), node));
    let (width, height) = (fields.length("width"), fields.length("height"));
    let (across, up) = (fields.length("across"), fields.length("up"));
    let (diameter, depth) = (fields.length("diameter"), fields.depth("depth"));
    let face = fields.face("face");
    let hardware = crate::fitting::read_hardware(fields);
    Some(Arc::new(CasterPlate {
        at: at?,
        plate: Point::new(width?.value, height?.value),
        holes: Point::new(across?.value, up?.value),
        diameter: diameter?.value,
        depth: depth?,
        face: face?.value,
        hardware: hardware.ok()?,
    }))
}

impl Feature for CasterPlate {
    fn lower(&self, out: &mut Lowering) {
        if let Depth::Blind(depth) = self.depth.value
            && !out.depth_fits(Spanned::new(depth, self.depth.span), "hole")
        {
            return;
        }
        let centre = self.at.point(&out.frame());
        let half = self.plate * 0.5;
        let plate = Mark {
            face: self.face,
            lines: vec![rectangle(Bounds::new(centre - half, centre + half))],
            text: Some((centre, "caster".to_owned())),
        };
        out.push(self.at.span, Work::Mark(plate));
        for (x, y) in [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)] {
            let hole = centre + Point::new(x * self.holes.x, y * self.holes.y);
            let at = Spanned::new(hole, self.at.span);
            out.drill(self.face, at, self.diameter, self.depth.value, None);
        }
        out.fit(Fitting::plain(FittingKind::Caster, 1, self.at.span));
        if let Some(fitting) = &self.hardware {
            out.fit(fitting.times(4));
        }
    }
}
