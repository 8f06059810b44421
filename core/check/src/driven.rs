//! Screws, bolts and the like in their places: each a straight line from its head to its tip.

use jigless_model::fact::Fact;
use jigless_model::frame::Frame;
use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::hardware::FittingKind;
use jigless_model::operation::{AngledBore, Depth, Mark, Operation, Work};
use jigless_model::side::Face;
use jigless_model::source::{Span, Spanned};
use jigless_model::whole::{Box3, Triple};

use crate::assembled::Assembled;
use crate::solid::{Solid, distance};

/// Diameters that differ by less are one, in millimetres.
const SAME: f64 = 1e-6;

/// A screw, bolt or the like in its place.
#[derive(Debug, Clone)]
pub struct Driven<'a> {
    /// Number of the feature that it belongs to.
    pub feature: usize,
    /// The hole that it goes into first.
    pub operation: &'a Operation,
    /// What it is.
    pub kind: FittingKind,
    /// What it is called in messages.
    pub what: &'static str,
    /// Its length.
    pub length: Spanned<f64>,
    /// Half its thickness, as far as its hole tells.
    pub radius: f64,
    /// Gauge or diameter as it is sold.
    pub gauge: Option<&'a str>,
    /// The part that the plan says it goes into.
    pub into: Option<&'a Spanned<String>>,
    /// Where its length begins.
    pub head: Triple,
    /// Where it runs, of length 1.
    pub toward: Triple,
    /// Whether its hole goes right through the first part.
    pub through: bool,
    /// How far its head lies below the face.
    pub sunk: f64,
}

impl Driven<'_> {
    /// A point so far along its axis.
    pub fn at(&self, along: f64) -> Triple {
        [0, 1, 2].map(|i| self.head[i] + self.toward[i] * along)
    }

    /// Where its tip is.
    pub fn tip(&self) -> Triple {
        self.at(self.length.value)
    }

    /// The same from the far end of its hole, which is so long.
    fn turned(self, hole: f64) -> Self {
        Self {
            head: self.at(hole),
            toward: self.toward.map(|part| -part),
            ..self
        }
    }

    /// Of a hole right through without a mouth for the head: from the side where no other piece lies, whichever face the
    /// plan names.
    pub(crate) fn run_from_the_free_side(self, assembled: &Assembled, solid: usize) -> Self {
        /// How far off the faces other pieces are looked for, in millimetres.
        const OFF: f64 = 0.5;
        let plain = |work: &Work| matches!(work, Work::Drill(drill) if drill.mouth.is_none());
        let thickness = assembled.solids[solid].workpiece.part.thickness();
        let is_free = |along: f64| {
            let at = self.at(along);
            let mut near = assembled.near(Box3::new(at, at)).into_iter();
            !near.any(|other| other != solid && assembled.solids[other].contains(at))
        };
        if self.through
            && matches!(self.kind, FittingKind::Bolt | FittingKind::Screw)
            && plain(&self.operation.work)
            && !is_free(-OFF)
            && is_free(thickness + OFF)
        {
            return self.turned(thickness);
        }
        self
    }

    /// Where the plan asks for it.
    pub fn span(&self) -> Span {
        self.operation.origin.span
    }
}

/// What goes into the holes of a piece, as far as the plan says how long it is.
pub fn driven_into<'a>(solid: &Solid<'a>, facts: &[(usize, &'a Fact)]) -> Vec<Driven<'a>> {
    let operations = &solid.workpiece.operations;
    let mut all = Vec::new();
    for (feature, fact) in facts {
        let of_feature = operations
            .iter()
            .filter(|operation| operation.origin.feature == Some(*feature));
        match fact {
            Fact::Fastener(fastener) => {
                for operation in of_feature {
                    let (kind, length) = (fastener.kind, fastener.length);
                    let seat = Seat {
                        feature: *feature,
                        operation,
                        diameter: Some(fastener.diameter),
                        without_hole: fastener.without_hole,
                        sunk: fastener.sunk,
                    };
                    all.extend(
                        seat.driven(solid, kind, fastener.what, length)
                            .map(|driven| Driven {
                                gauge: fastener.gauge.as_deref(),
                                ..driven
                            }),
                    );
                }
            }
            Fact::Screw(screw) => {
                for operation in of_feature {
                    let seat = Seat {
                        feature: *feature,
                        operation,
                        diameter: None,
                        without_hole: false,
                        sunk: screw.sunk,
                    };
                    let kind = FittingKind::Screw;
                    all.extend(
                        seat.driven(solid, kind, "screw", screw.length)
                            .map(|driven| Driven {
                                into: screw.into.as_ref(),
                                ..driven
                            }),
                    );
                }
            }
            _ => {}
        }
    }
    for operation in operations {
        if let (Work::AngledBore(bore), Some(feature)) = (&operation.work, operation.origin.feature)
        {
            all.extend(pocket_screw(solid, feature, operation, bore, facts));
        }
    }
    all
}

/// The hole that something goes into.
struct Seat<'a> {
    feature: usize,
    operation: &'a Operation,
    /// Only holes of this diameter.
    diameter: Option<f64>,
    /// Whether it is driven where a mark is.
    without_hole: bool,
    sunk: f64,
}

impl<'a> Seat<'a> {
    fn driven(
        &self,
        solid: &Solid,
        kind: FittingKind,
        what: &'static str,
        length: Spanned<f64>,
    ) -> Option<Driven<'a>> {
        let frame = solid.workpiece.part.frame();
        let (mouth, bottom, diameter, through) = match &self.operation.work {
            // Other marks, as the outline of a caster's plate, take nothing.
            Work::Mark(mark) if self.without_hole => {
                driven_at(mark, self.diameter?, frame.thickness)?
            }
            _ => axis_of(self.operation, &frame)?,
        };
        if self
            .diameter
            .is_some_and(|own| (own - diameter).abs() > SAME)
        {
            return None;
        }
        let (mouth, bottom) = (
            solid.whole(mouth.0, mouth.1),
            solid.whole(bottom.0, bottom.1),
        );
        let toward = direction(mouth, bottom)?;
        Some(Driven {
            feature: self.feature,
            operation: self.operation,
            kind,
            what,
            length,
            radius: diameter / 2.0,
            gauge: None,
            into: None,
            head: [0, 1, 2].map(|i| mouth[i] + toward[i] * self.sunk),
            toward,
            through,
            sunk: self.sunk,
        })
    }
}

/// A place in a part: on its front face, and how deep below that.
pub type Deep = (Point, f64);

/// What is driven without a hole, at the cross that marks its place: it goes through the whole part.
fn driven_at(mark: &Mark, diameter: f64, thickness: f64) -> Option<(Deep, Deep, f64, bool)> {
    let bounds = mark
        .lines
        .iter()
        .filter_map(Path::bounds)
        .reduce(Bounds::union)?;
    let (near, far) = match mark.face {
        Face::Front => (0.0, thickness),
        Face::Back => (thickness, 0.0),
    };
    let at = bounds.centre();
    Some(((at, near), (at, far), diameter, true))
}

/// Mouth and bottom of a straight hole in its part, its diameter, and whether it goes right through.
pub fn axis_of(operation: &Operation, frame: &Frame) -> Option<(Deep, Deep, f64, bool)> {
    let thickness = frame.thickness;
    match &operation.work {
        Work::Drill(drill) => {
            let (deep, through) = match drill.depth {
                Depth::Through => (thickness, true),
                Depth::Blind(deep) => (deep, false),
            };
            let at = |below: f64| match drill.face {
                Face::Front => (drill.centre, below),
                Face::Back => (drill.centre, thickness - below),
            };
            Some((at(0.0), at(deep), drill.diameter, through))
        }
        Work::EdgeDrill(hole) => {
            let at = |inward: f64| {
                let point = frame.from_edge(hole.edge, hole.along, inward);
                (point, hole.from_front)
            };
            Some((at(0.0), at(hole.depth), hole.diameter, false))
        }
        Work::AngledBore(_)
        | Work::MillArea(_)
        | Work::CutContour(_)
        | Work::Mark(_)
        | Work::Bevel(_) => None,
    }
}

/// A point of the axis of an angled bore, so far from where it enters the face.
pub fn bored(bore: &AngledBore, thickness: f64, along: f64) -> Deep {
    let run = bore.entry.distance(bore.exit);
    let share = if run > 0.0 {
        along * bore.angle.cos() / run
    } else {
        0.0
    };
    let below = along * bore.angle.sin();
    let depth = match bore.face {
        Face::Front => below,
        Face::Back => thickness - below,
    };
    (bore.entry.toward(bore.exit, share), depth)
}

/// From the entry of an angled bore to its edge, along the axis.
pub fn bore_length(bore: &AngledBore) -> f64 {
    bore.exit_depth / bore.angle.sin()
}

fn pocket_screw<'a>(
    solid: &Solid,
    feature: usize,
    operation: &'a Operation,
    bore: &'a AngledBore,
    facts: &[(usize, &'a Fact)],
) -> Option<Driven<'a>> {
    let screw = bore.screw.as_ref()?;
    let thickness = solid.workpiece.part.thickness();
    let point = |along: f64| {
        let (at, depth) = bored(bore, thickness, along);
        solid.whole(at, depth)
    };
    let head = point(bore.shoulder);
    let toward = direction(head, point(bore.shoulder + 1.0))?;
    let into = facts.iter().find_map(|(of, fact)| match fact {
        Fact::PocketScrewsInto { part, .. } if *of == feature => Some(part),
        _ => None,
    });
    Some(Driven {
        feature,
        operation,
        kind: FittingKind::PocketScrew,
        what: "pocket screw",
        length: Spanned::new(screw.length, operation.origin.span),
        radius: bore.pilot / 2.0,
        gauge: screw.gauge.as_deref(),
        into,
        head,
        toward,
        through: true,
        sunk: 0.0,
    })
}

fn direction(from: Triple, to: Triple) -> Option<Triple> {
    let length = distance(from, to);
    (length > 0.0).then(|| [0, 1, 2].map(|i| (to[i] - from[i]) / length))
}
