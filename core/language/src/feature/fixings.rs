//! Nails and staples: driven without a hole, drawn as a cross each.

use jigless_model::fact::{Fact, Fastener};
use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Path, Point};
use jigless_model::hardware::Fitting;
use jigless_model::operation::{self, Work};
use jigless_model::side::Edge;
use jigless_model::source::Spanned;

use jigless_model::diag::Finding;

use super::FeatureKind;
use super::common::{Label, OnFace};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Fields, KeySet, Map, Place, Size, Spread};

crate::fields! {
    struct FixingKeys {
        /// one end of the line that they stand on
        from: Place,
        /// its other end, to the right or above
        to: Place,
        /// where along that line they are
        at: Spread,
        /// what is driven; with its length, it is held against the wood that it meets
        hardware: Map<Fitting>,
        /// how thick it is
        diameter: Size = "1.6 mm" [CommonPractice],
        on: OnFace,
        _label: Label,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "fixings",
    summary: "nails or staples that are driven without a hole, each drawn as a cross",
    fields: FixingKeys::FIELDS,
    make,
};

/// Half the arm of a cross, in millimetres: to be seen, and smaller than a hammer.
const ARM: f64 = 2.0;

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = FixingKeys::read(fields)?;
    let frame = out.frame();
    let (from, to) = (keys.from.point(&frame), keys.to.point(&frame));
    let part = Bounds::of_size(frame.width, frame.height);
    if ![from, to]
        .iter()
        .all(|p| part.contains(*p, LENGTH_TOLERANCE))
    {
        let (width, height) = (out.show(frame.width), out.show(frame.height));
        out.find(
            Finding::error(
                codes::MARK_OUTSIDE_PART,
                keys.from.span,
                "the line of the fixings lies beyond the part's edges",
            )
            .fix(format!("keep it within {width} by {height}")),
        );
        return Some(());
    }
    let run = from.distance(to);
    let edge = if (to.y - from.y).abs() > (to.x - from.x).abs() {
        Edge::Left
    } else {
        Edge::Bottom
    };
    let places = keys
        .at
        .along(fields.context(), edge, run, "the line of the fixings")?;
    if let Some(length) = keys.hardware.length {
        out.know(Fact::Fastener(Fastener {
            kind: keys.hardware.kind,
            what: keys.hardware.kind.name(),
            length: Spanned::new(length, keys.hardware.span),
            gauge: keys.hardware.gauge.clone(),
            diameter: keys.diameter,
            without_hole: true,
            sunk: 0.0,
        }));
    }
    for place in places {
        let share = if run > 0.0 { place.value / run } else { 0.0 };
        let at = from.toward(to, share);
        let arm = |x: f64, y: f64| Path::line(at - Point::new(x, y), at + Point::new(x, y));
        let cross = operation::Mark {
            face: keys.on.face,
            lines: vec![arm(ARM, 0.0), arm(0.0, ARM)],
            text: None,
        };
        out.push(place.span, Work::Mark(cross));
        out.fit(keys.hardware.clone());
    }
    Some(())
}
