//! What is done to a part, in a small closed vocabulary on exact geometry. Exporters see only this.
//!
//! Coordinates are the part's own: millimetres, x to the right and y upward as seen on its **front** face, 0,0 at the
//! lower left corner, also for work on the back. [`FaceView`](crate::view::FaceView) turns them to what a person
//! sees who looks at one face.

use crate::geom::{Path, Point};
use crate::side::{Edge, Face};
use crate::source::Span;

/// One piece of work, and what in the plan asks for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Operation {
    /// What in the plan asks for it.
    pub origin: Origin,
    /// What is done.
    pub work: Work,
}

/// What in the plan asks for an operation.
#[derive(Debug, Clone, PartialEq)]
pub struct Origin {
    /// Key of the feature (`hole`, `groove`); `outline` for the contour, which several features may shape.
    pub key: &'static str,
    /// Number of the feature within its part, from 0; `None` for the contour.
    pub feature: Option<usize>,
    /// The author's name for it, if any.
    pub label: Option<String>,
    /// Where the plan asks for it.
    pub span: Span,
}

/// The closed vocabulary of work.
#[derive(Debug, Clone, PartialEq)]
pub enum Work {
    /// A hole square to a face.
    Drill(Drill),
    /// A hole into a face at an angle.
    AngledBore(AngledBore),
    /// An area milled to a depth: groove, rebate or recess.
    MillArea(MillArea),
    /// A cut right through along a contour.
    CutContour(CutContour),
    /// A pencil line or engraving; never a cut.
    Mark(Mark),
    /// A hole into an edge, parallel to the faces.
    EdgeDrill(EdgeDrill),
    /// An edge cut off square.
    Bevel(Bevel),
}

/// How deep work goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Depth {
    /// All the way.
    Through,
    /// This many millimetres from the face.
    Blind(f64),
}

/// A hole square to a face.
#[derive(Debug, Clone, PartialEq)]
pub struct Drill {
    /// Short name on paper, numbered within the part: `H1`.
    pub id: String,
    /// The face that it is drilled from.
    pub face: Face,
    /// Its centre.
    pub centre: Point,
    /// Diameter in millimetres.
    pub diameter: f64,
    /// How deep, measured from the face.
    pub depth: Depth,
    /// A wider mouth for a screw head, if any.
    pub mouth: Option<Mouth>,
}

/// The mouth of a hole for a screw head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Mouth {
    /// A cone.
    Countersink {
        /// Diameter at the face, in millimetres.
        diameter: f64,
        /// Included angle of the cone, in radians.
        angle: f64,
    },
    /// A wider hole with a flat bottom.
    Counterbore {
        /// Diameter in millimetres.
        diameter: f64,
        /// Depth from the face, in millimetres.
        depth: f64,
    },
}

impl Mouth {
    /// Diameter at the face, in millimetres.
    pub fn diameter(self) -> f64 {
        match self {
            Mouth::Countersink { diameter, .. } | Mouth::Counterbore { diameter, .. } => diameter,
        }
    }

    /// Depth from the face, in millimetres, to where the hole of `bore` diameter begins.
    pub fn depth(self, bore: f64) -> f64 {
        match self {
            // Elementary: half the difference of the diameters over the tangent of half the angle.
            Mouth::Countersink { diameter, angle } => (diameter - bore) / 2.0 / (angle / 2.0).tan(),
            Mouth::Counterbore { depth, .. } => depth,
        }
    }
}

/// A stepped hole drilled into a face at an angle, toward an edge: a screw pocket.
#[derive(Debug, Clone, PartialEq)]
pub struct AngledBore {
    /// Short name on paper, numbered within the part: `P1`.
    pub id: String,
    /// The face that it is drilled into.
    pub face: Face,
    /// Where the axis meets the face.
    pub entry: Point,
    /// Where the axis leaves through the edge, as seen on the face.
    pub exit: Point,
    /// The edge that the axis leaves through.
    pub edge: Edge,
    /// Distance of the exit from the drilled face, in millimetres.
    pub exit_depth: f64,
    /// Angle between axis and face, in radians.
    pub angle: f64,
    /// Diameter of the wide part, in millimetres.
    pub diameter: f64,
    /// Diameter of the pilot that goes on to the edge, in millimetres.
    pub pilot: f64,
    /// From the entry along the axis to the shoulder where the wide part ends, in millimetres.
    pub shoulder: f64,
    /// The screw that is meant, if the plan names it.
    pub screw: Option<Screw>,
}

impl AngledBore {
    /// Half the long axis of the ellipse that the wide part cuts into the face: d / (2 sin angle).
    pub fn mouth_half_length(&self) -> f64 {
        self.diameter / 2.0 / self.angle.sin()
    }
}

/// A screw as the plan names it.
#[derive(Debug, Clone, PartialEq)]
pub struct Screw {
    /// Length in millimetres.
    pub length: f64,
    /// Gauge or diameter as written.
    pub gauge: Option<String>,
}

/// What an area milled to a depth is called in the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AreaKind {
    /// A groove or housing.
    Groove,
    /// A step along an edge.
    Rebate,
    /// A blind pocket in a face.
    Recess,
}

impl AreaKind {
    /// The trade's word.
    pub const fn name(self) -> &'static str {
        match self {
            AreaKind::Groove => "groove",
            AreaKind::Rebate => "rebate",
            AreaKind::Recess => "recess",
        }
    }
}

/// An area milled to a depth.
#[derive(Debug, Clone, PartialEq)]
pub struct MillArea {
    /// Short name on paper, numbered within the part: `G1`, `R1`.
    pub id: String,
    /// What it is called.
    pub kind: AreaKind,
    /// The face that it is milled into.
    pub face: Face,
    /// Its closed border, counter-clockwise.
    pub outline: Path,
    /// Depth from the face, in millimetres.
    pub depth: f64,
    /// The edges of the part at which the area is open, so that the tool may run out over them.
    pub open: Vec<Edge>,
}

/// Which side of a through cut is the part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ContourSide {
    /// The part is inside: its outline.
    Outer,
    /// The part is outside: an opening.
    Inner,
}

/// A cut right through.
#[derive(Debug, Clone, PartialEq)]
pub struct CutContour {
    /// Which side is the part.
    pub side: ContourSide,
    /// The closed contour: counter-clockwise outside, clockwise inside.
    pub path: Path,
}

/// A pencil line or engraving.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// The face that it is on.
    pub face: Face,
    /// Its lines.
    pub lines: Vec<Path>,
    /// Its text and where the middle of the text goes, if any.
    pub text: Option<(Point, String)>,
}

/// A hole into an edge, parallel to the faces.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeDrill {
    /// Short name on paper, numbered within the part: `E1`.
    pub id: String,
    /// The edge that it is drilled into.
    pub edge: Edge,
    /// Distance of its axis from the left or bottom end of the edge, in millimetres.
    pub along: f64,
    /// Distance of its axis from the front face, in millimetres.
    pub from_front: f64,
    /// Diameter in millimetres.
    pub diameter: f64,
    /// Depth from the edge, in millimetres.
    pub depth: f64,
}

/// An edge cut off square.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bevel {
    /// The edge.
    pub edge: Edge,
    /// Tilt from square, in radians. Positive: the front face keeps its size and the back loses; negative: the other way.
    pub angle: f64,
}

impl Bevel {
    /// How far the shorter face lies behind the longer one, in millimetres.
    pub fn setback(self, thickness: f64) -> f64 {
        thickness * self.angle.abs().tan()
    }
}

impl Work {
    /// The letter of its short name, and the name; `None` for work that has none.
    fn short_name(&mut self) -> Option<(char, &mut String)> {
        Some(match self {
            Work::Drill(drill) => ('H', &mut drill.id),
            Work::EdgeDrill(hole) => ('E', &mut hole.id),
            Work::AngledBore(bore) => ('P', &mut bore.id),
            Work::MillArea(area) => match area.kind {
                AreaKind::Groove => ('G', &mut area.id),
                AreaKind::Rebate => ('R', &mut area.id),
                AreaKind::Recess => ('C', &mut area.id),
            },
            Work::CutContour(_) | Work::Mark(_) | Work::Bevel(_) => return None,
        })
    }

    /// The same work with its short name, if it is of a kind that has one: its letter, and the number that `next` gives
    /// for the letter.
    #[must_use]
    pub fn numbered(mut self, next: impl FnOnce(char) -> u32) -> Work {
        if let Some((letter, id)) = self.short_name() {
            *id = format!("{letter}{}", next(letter));
        }
        self
    }
}

impl Operation {
    /// The number that the work has on the template: `H1`; none of contours, pencil lines and bevels.
    pub fn number(&self) -> Option<&str> {
        match &self.work {
            Work::Drill(drill) => Some(&drill.id),
            Work::AngledBore(bore) => Some(&bore.id),
            Work::MillArea(area) => Some(&area.id),
            Work::EdgeDrill(hole) => Some(&hole.id),
            Work::CutContour(_) | Work::Mark(_) | Work::Bevel(_) => None,
        }
    }

    /// The face that the work is done from: the front for through cuts, none for work on edges.
    pub fn face(&self) -> Option<Face> {
        match &self.work {
            Work::Drill(drill) => Some(drill.face),
            Work::AngledBore(bore) => Some(bore.face),
            Work::MillArea(area) => Some(area.face),
            Work::CutContour(_) => Some(Face::Front),
            Work::Mark(mark) => Some(mark.face),
            Work::EdgeDrill(_) | Work::Bevel(_) => None,
        }
    }

    /// The operation with left and right changed over: x becomes `width - x`, and edges follow. Contours keep their
    /// sense of travel, and text stays readable.
    #[must_use]
    pub fn mirrored(&self, width: f64) -> Operation {
        let flip = |p: Point| Point::new(width - p.x, p.y);
        let work = match self.work.clone() {
            Work::Drill(drill) => Work::Drill(Drill {
                centre: flip(drill.centre),
                ..drill
            }),
            Work::AngledBore(bore) => Work::AngledBore(AngledBore {
                entry: flip(bore.entry),
                exit: flip(bore.exit),
                edge: bore.edge.mirrored(),
                ..bore
            }),
            Work::MillArea(area) => Work::MillArea(MillArea {
                outline: area.outline.mirrored(width).normalised(true),
                open: area.open.iter().map(|edge| edge.mirrored()).collect(),
                ..area
            }),
            Work::CutContour(cut) => Work::CutContour(CutContour {
                path: cut
                    .path
                    .mirrored(width)
                    .normalised(cut.side == ContourSide::Outer),
                ..cut
            }),
            Work::Mark(mark) => Work::Mark(Mark {
                lines: mark.lines.iter().map(|l| l.mirrored(width)).collect(),
                text: mark.text.map(|(at, text)| (flip(at), text)),
                ..mark
            }),
            Work::EdgeDrill(hole) => Work::EdgeDrill(EdgeDrill {
                edge: hole.edge.mirrored(),
                along: if hole.edge.is_upright() {
                    hole.along
                } else {
                    width - hole.along
                },
                ..hole
            }),
            Work::Bevel(bevel) => Work::Bevel(Bevel {
                edge: bevel.edge.mirrored(),
                ..bevel
            }),
        };
        Operation {
            origin: self.origin.clone(),
            work,
        }
    }
}
