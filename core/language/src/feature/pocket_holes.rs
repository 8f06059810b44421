//! Angled screw pockets near an edge.

use std::sync::Arc;

use jigless_model::diag::Finding;
use jigless_model::fact::Fact;
use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::operation::{AngledBore, Screw, Work};
use jigless_model::side::{Edge, Face};
use jigless_model::source::Spanned;

use super::common::{FACE, LABEL};
use super::{Feature, FeatureKind};
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame, Shape, read_spread};

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "pocket_holes",
    summary: "angled screw pockets near an edge",
    fields: &[
        Field::required(
            "edge",
            Shape::Edge,
            "the edge that the screws leave through",
        ),
        Field::required("at", Shape::Spread, "where along the edge"),
        FACE,
        Field::with_default(
            "angle",
            Shape::Degrees(5.0, 45.0),
            "15",
            "angle between screw and face",
        ),
        Field::with_default("diameter", Shape::Size, "9.5 mm", "diameter of the pocket"),
        Field::with_default(
            "pilot",
            Shape::Size,
            "4 mm",
            "diameter of the hole that goes on to the edge",
        ),
        Field::with_default(
            "exit",
            Shape::Size,
            "thickness / 2",
            "where the axis leaves the edge, from the drilled face",
        ),
        Field::with_default(
            "shoulder",
            Shape::Size,
            "thickness",
            "wood between the pocket's bottom and the edge, along the axis",
        ),
        Field::optional(
            "into",
            Shape::Text,
            "name of the part that the screws go into, square to its face or edge",
        ),
        Field::optional(
            "screw",
            Shape::Map(&[
                Field::required("length", Shape::Size, "length of the screw"),
                Field::optional("gauge", Shape::Text, "its gauge or diameter"),
            ]),
            "the screw that is meant",
        ),
        LABEL,
    ],
    read,
};

#[derive(Debug)]
struct PocketHoles {
    edge: Spanned<Edge>,
    at: Vec<Spanned<f64>>,
    face: Face,
    /// Degrees.
    angle: f64,
    diameter: Spanned<f64>,
    pilot: Spanned<f64>,
    exit: Spanned<f64>,
    shoulder: Spanned<f64>,
    screw: Option<Screw>,
    /// The length with its place, for the checks.
    screw_length: Option<Spanned<f64>>,
    into: Option<Spanned<String>>,
}

fn read(fields: &Fields, frame: &Frame) -> Option<Arc<dyn Feature>> {
    let edge = fields.edge("edge");
    let at = fields.required_node("at").and_then(|node| {
        let edge = edge?.value;
        read_spread(fields.context(), node, edge, frame.edge_length(edge))
    });
    let face = fields.face("face");
    let angle = fields.degrees("angle");
    let (diameter, pilot) = (fields.length("diameter"), fields.length("pilot"));
    let (exit, shoulder) = (fields.length("exit"), fields.length("shoulder"));
    let screw = if fields.has("screw") {
        fields
            .map("screw")
            .and_then(|screw| read_screw(&screw))
            .map(Some)
    } else {
        Some(None)
    };
    let into = if fields.has("into") {
        Some(fields.text("into")?)
    } else {
        None
    };
    let screw = screw?;
    Some(Arc::new(PocketHoles {
        edge: edge?,
        at: at?,
        face: face?.value,
        angle: angle?.value,
        diameter: diameter?,
        pilot: pilot?,
        exit: exit?,
        shoulder: shoulder?,
        screw_length: screw.as_ref().map(|(_, length)| *length),
        screw: screw.map(|(screw, _)| screw),
        into,
    }))
}

fn read_screw(fields: &Fields) -> Option<(Screw, Spanned<f64>)> {
    let length = fields.length("length");
    let gauge = if fields.has("gauge") {
        Some(fields.text("gauge")?.value)
    } else {
        None
    };
    let length = length?;
    let screw = Screw {
        length: length.value,
        gauge,
    };
    Some((screw, length))
}

impl PocketHoles {
    /// Tells what cannot be drilled; gives whether all can.
    fn fits(&self, out: &mut Lowering, along_axis: f64, inward: f64) -> bool {
        let unit = out.unit();
        let frame = out.frame();
        let finding = if self.pilot.value >= self.diameter.value {
            Finding::error(
                codes::PILOT_TOO_WIDE,
                self.pilot.span,
                format!(
                    "the pilot of {} leaves no shoulder in a pocket of {}",
                    unit.show(self.pilot.value),
                    unit.show(self.diameter.value)
                ),
            )
            .fix("make the pilot narrower than the pocket")
        } else if self.exit.value >= frame.thickness {
            Finding::error(
                codes::DEPTH_BEYOND_THICKNESS,
                self.exit.span,
                format!(
                    "the screw would leave {} from the face, and the part is {} thick",
                    unit.show(self.exit.value),
                    unit.show(frame.thickness)
                ),
            )
            .fix(format!(
                "half the thickness is {}",
                unit.show(frame.thickness / 2.0)
            ))
        } else if self.shoulder.value >= along_axis {
            Finding::error(
                codes::NO_POCKET,
                self.shoulder.span,
                format!(
                    "{} of wood before the edge leaves no pocket: the axis is only {} long",
                    unit.show(self.shoulder.value),
                    unit.show(along_axis)
                ),
            )
            .fix(format!("keep `shoulder` below {}", unit.show(along_axis)))
        } else {
            let half_mouth = self.diameter.value / 2.0 / self.angle.to_radians().sin();
            let across = frame.across(self.edge.value);
            if inward + half_mouth <= across {
                return self.ends_clear(out);
            }
            Finding::error(
                codes::AREA_OUTSIDE_PART,
                self.edge.span,
                format!(
                    "the pocket reaches {} in from the {} edge, and the part is {} across",
                    unit.show(inward + half_mouth),
                    self.edge.value.name(),
                    unit.show(across)
                ),
            )
            .fix("use a steeper angle or a wider part")
        };
        out.find(finding);
        false
    }

    /// Tells of a pocket that breaks out at an end of the edge; gives whether none does.
    fn ends_clear(&self, out: &mut Lowering) -> bool {
        let unit = out.unit();
        let run = out.frame().edge_length(self.edge.value);
        let radius = self.diameter.value / 2.0;
        let breaks_out = |along: &&Spanned<f64>| along.value.min(run - along.value) < radius;
        let Some(along) = self.at.iter().find(breaks_out) else {
            return true;
        };
        out.find(
            Finding::error(
                codes::AREA_OUTSIDE_PART,
                along.span,
                format!(
                    "a pocket of {} breaks out: it is centred {} from the end of the edge",
                    unit.show(self.diameter.value),
                    unit.show(along.value.min(run - along.value))
                ),
            )
            .fix(format!(
                "keep it at least {} away from the end",
                unit.show(radius)
            )),
        );
        false
    }

    fn show_workings(&self, out: &mut Lowering, along_axis: f64, inward: f64) {
        let unit = out.unit();
        let angle = jigless_model::units::decimal(self.angle, 1);
        let exit = unit.show(self.exit.value);
        out.working(format!(
            "pocket entry from the {} edge: {exit} / tan {angle} deg = {}",
            self.edge.value.name(),
            unit.show(inward)
        ));
        out.working(format!(
            "along the bit from entry to edge: {exit} / sin {angle} deg = {}",
            unit.show(along_axis)
        ));
        out.working(format!(
            "stop collar, entry to shoulder: {} - {} = {}",
            unit.show(along_axis),
            unit.show(self.shoulder.value),
            unit.show(along_axis - self.shoulder.value)
        ));
        if let Some(screw) = &self.screw {
            let beyond = screw.length - self.shoulder.value;
            out.working(format!(
                "screw beyond the edge, square to it: ({} - {}) cos {angle} deg = {}",
                unit.show(screw.length),
                unit.show(self.shoulder.value),
                unit.show(beyond * self.angle.to_radians().cos())
            ));
        }
    }
}

impl Feature for PocketHoles {
    fn lower(&self, out: &mut Lowering) {
        let frame = out.frame();
        let angle = self.angle.to_radians();
        // A right triangle: the exit's depth is opposite to the angle at the entry.
        let along_axis = self.exit.value / angle.sin();
        let inward = self.exit.value / angle.tan();
        if !self.fits(out, along_axis, inward) {
            return;
        }
        self.show_workings(out, along_axis, inward);
        if let Some(screw) = &self.screw {
            out.fit(Fitting {
                kind: FittingKind::PocketScrew,
                length: Some(screw.length),
                gauge: screw.gauge.clone(),
                count: self.at.len() as u32,
                span: self.edge.span,
            });
        }
        for at in &self.at {
            let bore = AngledBore {
                id: String::new(),
                face: self.face,
                entry: frame.from_edge(self.edge.value, at.value, inward),
                exit: frame.from_edge(self.edge.value, at.value, 0.0),
                edge: self.edge.value,
                exit_depth: self.exit.value,
                angle,
                diameter: self.diameter.value,
                pilot: self.pilot.value,
                shoulder: along_axis - self.shoulder.value,
                screw: self.screw.clone(),
            };
            out.push(at.span, Work::AngledBore(bore));
        }
    }

    fn facts(&self) -> Vec<Fact> {
        let (Some(part), Some(length)) = (self.into.clone(), self.screw_length) else {
            return Vec::new();
        };
        vec![Fact::PocketScrewsInto {
            part,
            length,
            shoulder: self.shoulder.value,
            angle: self.angle.to_radians(),
        }]
    }
}
