//! Holes drilled into an edge, for dowels and screws.

use jigless_model::diag::Finding;
use jigless_model::fact::{Enters, ScrewSize};
use jigless_model::hardware::Fitting;
use jigless_model::operation::{Depth, EdgeDrill, Work};
use jigless_model::side::Edge;
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::{Label, ScrewKeys, note_bought};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Fields, KeySet, Map, Size, Spread};

crate::fields! {
    struct EdgeHoleKeys {
        /// the edge that is drilled
        edge: Edge,
        /// where along the edge: one place or several
        along: Spread,
        /// diameter of the drill
        diameter: Spanned<Size>,
        /// depth from the edge
        depth: Spanned<Size>,
        /// distance of the axis from the front face
        from_front: Spanned<Size> = "thickness / 2",
        /// what goes into each hole, for the list of hardware
        hardware: Option<Map<Fitting>>,
        /// the screw that goes into this hole
        screw: Option<Map<EdgeScrewKeys>>,
        _label: Label,
    }
}

crate::fields! {
    struct EdgeScrewKeys {
        /// how much of the screw goes into this hole
        length: Spanned<Size>,
        /// gauge `#8`, or outside of the thread `4.5 mm`
        size: Spanned<ScrewSize>,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "edge_hole",
    summary: "holes drilled into an edge, parallel to the faces",
    fields: EdgeHoleKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = EdgeHoleKeys::read(fields)?;
    let EdgeHoleKeys {
        edge,
        diameter,
        depth,
        from_front,
        ..
    } = keys;
    let frame = out.frame();
    let run = frame.edge_length(edge);
    let places = keys.along.on_edge(fields.context(), edge, run)?;
    if let Some(screw) = keys.screw {
        let screw = ScrewKeys {
            length: screw.length,
            size: screw.size,
            into: None,
            enters: Enters::Edge,
            pull: None,
        };
        out.know(screw.fact(diameter, depth.map(Depth::Blind), None));
    } else {
        note_bought(out, keys.hardware.as_ref(), None, diameter.value, None);
    }
    let nearer = from_front.value.min(frame.thickness - from_front.value);
    if nearer < diameter.value / 2.0 {
        let (wide, near) = (out.show(diameter.value), out.show(nearer));
        let (most, middle) = (
            out.show((2.0 * nearer).max(0.0)),
            out.show(frame.thickness / 2.0),
        );
        let message =
            format!("a hole of {wide} whose axis is {near} from a face breaks through that face");
        out.find(
            Finding::error(codes::HOLE_BREAKS_FACE, diameter.span, message)
                .label(from_front.span, "the axis")
                .fix(format!(
                    "keep the diameter below {most} here, or move the axis to the middle ({middle})"
                )),
        );
        return Some(());
    }
    let across = frame.across(edge);
    if depth.value >= across {
        let (deep, across) = (out.show(depth.value), out.show(across));
        let message =
            format!("a hole {deep} deep goes through the part, which is {across} across here");
        out.find(
            Finding::error(codes::DEPTH_BEYOND_PART, depth.span, message)
                .fix(format!("keep the depth below {across}")),
        );
        return Some(());
    }
    if let Some(fitting) = &keys.hardware {
        out.fit(fitting.times(places.len()));
    }
    for along in &places {
        let drill = EdgeDrill {
            id: String::new(),
            edge,
            along: along.value,
            from_front: from_front.value,
            diameter: diameter.value,
            depth: depth.value,
        };
        out.push(along.span, Work::EdgeDrill(drill));
    }
    Some(())
}
