//! Angled screw pockets near an edge.

use jigless_model::diag::Finding;
use jigless_model::fact::Fact;
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::operation::{AngledBore, Screw, Work};
use jigless_model::side::Edge;
use jigless_model::source::Spanned;
use jigless_model::units::decimal;

use super::FeatureKind;
use super::common::{Label, OnFace};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Degrees, Fields, KeySet, Map, Size, Spread};

crate::fields! {
    struct PocketKeys {
        /// the edge that the screws leave through
        edge: Spanned<Edge>,
        /// where along the edge
        at: Spread,
        on: OnFace,
        /// angle between screw and face
        angle: Degrees<5, 45> = "15",
        /// diameter of the pocket
        diameter: Spanned<Size> = "9.5 mm",
        /// diameter of the hole that goes on to the edge
        pilot: Spanned<Size> = "4 mm",
        /// where the axis leaves the edge, from the drilled face
        exit: Spanned<Size> = "thickness / 2",
        /// wood between the pocket's bottom and the edge, along the axis
        shoulder: Spanned<Size> = "thickness",
        /// name of the part that the screws go into, square to its face or edge
        into: Option<Spanned<String>>,
        /// the screw that is meant
        screw: Option<Map<ScrewKeys>>,
        _label: Label,
    }
}

crate::fields! {
    struct ScrewKeys {
        /// length of the screw
        length: Spanned<Size>,
        /// its gauge or diameter
        gauge: Option<String>,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "pocket_holes",
    summary: "angled screw pockets near an edge",
    fields: PocketKeys::FIELDS,
    make,
};

/// A pocket in the plane of its axis, in millimetres.
struct Pocket {
    /// Radians.
    angle: f64,
    /// From the entry to the edge, along the bit.
    along_axis: f64,
    /// From the edge to the entry, along the face.
    inward: f64,
}

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = PocketKeys::read(fields)?;
    let (edge, frame) = (keys.edge.value, out.frame());
    let run = frame.edge_length(edge);
    let places = keys.at.on_edge(fields.context(), edge, run)?;
    let angle = keys.angle.to_radians();
    // A right triangle: the exit's depth is opposite to the angle at the entry.
    let pocket = Pocket {
        angle,
        along_axis: keys.exit.value / angle.sin(),
        inward: keys.exit.value / angle.tan(),
    };
    if let (Some(part), Some(screw)) = (&keys.into, &keys.screw) {
        out.know(Fact::PocketScrewsInto {
            part: part.clone(),
            length: screw.length,
            shoulder: keys.shoulder.value,
            angle,
        });
    }
    if let Some(finding) = keys.misfit(out, &pocket, &places) {
        out.find(finding);
        return Some(());
    }
    keys.show_workings(out, &pocket);
    let screw = keys.screw.map(|screw| Screw {
        length: screw.length.value,
        gauge: screw.gauge,
    });
    if let Some(screw) = &screw {
        out.fit(Fitting {
            kind: FittingKind::PocketScrew,
            length: Some(screw.length),
            gauge: screw.gauge.clone(),
            count: places.len() as u32,
            span: keys.edge.span,
        });
    }
    for at in &places {
        let bore = AngledBore {
            id: String::new(),
            face: keys.on.face,
            entry: frame.from_edge(edge, at.value, pocket.inward),
            exit: frame.from_edge(edge, at.value, 0.0),
            edge,
            exit_depth: keys.exit.value,
            angle,
            diameter: keys.diameter.value,
            pilot: keys.pilot.value,
            shoulder: pocket.along_axis - keys.shoulder.value,
            screw: screw.clone(),
        };
        out.push(at.span, Work::AngledBore(bore));
    }
    Some(())
}

impl PocketKeys {
    /// What cannot be drilled, if anything.
    fn misfit(&self, out: &Lowering, pocket: &Pocket, places: &[Spanned<f64>]) -> Option<Finding> {
        let frame = out.frame();
        let (edge, diameter) = (self.edge.value, self.diameter.value);
        if self.pilot.value >= diameter {
            let (pilot, wide) = (out.show(self.pilot.value), out.show(diameter));
            let message = format!("the pilot of {pilot} leaves no shoulder in a pocket of {wide}");
            return Some(
                Finding::error(codes::PILOT_TOO_WIDE, self.pilot.span, message)
                    .fix("make the pilot narrower than the pocket"),
            );
        }
        if self.exit.value >= frame.thickness {
            let (exit, thick) = (out.show(self.exit.value), out.show(frame.thickness));
            let half = out.show(frame.thickness / 2.0);
            let message = format!(
                "the screw would leave {exit} from the face, and the part is {thick} thick"
            );
            return Some(
                Finding::error(codes::DEPTH_BEYOND_THICKNESS, self.exit.span, message)
                    .fix(format!("half the thickness is {half}")),
            );
        }
        if self.shoulder.value >= pocket.along_axis {
            let (wood, long) = (out.show(self.shoulder.value), out.show(pocket.along_axis));
            let message = format!(
                "{wood} of wood before the edge leaves no pocket: the axis is only {long} long"
            );
            return Some(
                Finding::error(codes::NO_POCKET, self.shoulder.span, message)
                    .fix(format!("keep `shoulder` below {long}")),
            );
        }
        let reach = pocket.inward + diameter / 2.0 / pocket.angle.sin();
        let across = frame.across(edge);
        if reach > across {
            let (reach, across) = (out.show(reach), out.show(across));
            let message = format!(
                "the pocket reaches {reach} in from the {} edge, and the part is {across} across",
                edge.name()
            );
            return Some(
                Finding::error(codes::AREA_OUTSIDE_PART, self.edge.span, message)
                    .fix("use a steeper angle or a wider part"),
            );
        }
        let run = frame.edge_length(edge);
        let from_end = |along: &Spanned<f64>| along.value.min(run - along.value);
        let radius = diameter / 2.0;
        let broken = places.iter().find(|along| from_end(along) < radius)?;
        let (wide, end) = (out.show(diameter), out.show(from_end(broken)));
        let message =
            format!("a pocket of {wide} breaks out: it is centred {end} from the end of the edge");
        let fix = format!("keep it at least {} away from the end", out.show(radius));
        Some(Finding::error(codes::AREA_OUTSIDE_PART, broken.span, message).fix(fix))
    }

    fn show_workings(&self, out: &mut Lowering, pocket: &Pocket) {
        let angle = decimal(self.angle, 1);
        let (exit, shoulder) = (out.show(self.exit.value), out.show(self.shoulder.value));
        let (axis, inward) = (out.show(pocket.along_axis), out.show(pocket.inward));
        let stop = out.show(pocket.along_axis - self.shoulder.value);
        let sum = format!("{exit} / tan {angle} deg = {inward}");
        out.working_from("pocket entry", self.edge.value, sum);
        out.working(format!(
            "along the bit from entry to edge: {exit} / sin {angle} deg = {axis}"
        ));
        out.working(format!(
            "entry to shoulder along the bit: {axis} - {shoulder} = {stop}"
        ));
        if let Some(screw) = &self.screw {
            let length = screw.length.value;
            let beyond = (length - self.shoulder.value) * pocket.angle.cos();
            let (length, beyond) = (out.show(length), out.show(beyond));
            out.working(format!(
                "screw beyond the edge, square to it: ({length} - {shoulder}) cos {angle} deg = {beyond}"
            ));
        }
    }
}
