//! Things on the paper: what they stand for and what they look like.

use jigless_model::geom::{Bounds, Path, Point, Vertex};

use super::style::{Ink, Pen};
use super::text::TextLine;

/// What a stroke, area or text stands for. Formats with layers make one of each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Role {
    /// A through cut: the outline and the openings.
    Contour,
    /// The mark of a hole square to the face.
    Hole,
    /// An area milled to a depth.
    Area,
    /// Work that a drill square to the face does not do: angled bores, edge holes, bevels.
    HandWork,
    /// A pencil line or engraving that the plan asks for.
    Mark,
    /// Words beside the work.
    Label,
    /// Words about the whole part: edge names, grain, which face.
    Note,
    /// What is on the paper and not on the part: title, page map, frame.
    Frame,
    /// Bars to measure the print by.
    CheckBar,
    /// Seams and join marks of neighbouring pages.
    Join,
    /// The room that a whole is made for, behind everything.
    Room,
    /// What is seen of a side in a picture of the whole.
    Side,
    /// Thin lines over what was cut.
    Hatch,
    /// The line from where a piece belongs to where it is shown.
    Flight,
    /// What is hidden in a picture of the whole.
    Hidden,
    /// Where two sides meet in a picture of the whole.
    Crease,
    /// Where a thing ends in a picture of the whole.
    Outline,
    /// Lengths with their lines.
    Dimension,
    /// The mark of a part, and the line to it.
    Balloon,
}

impl Role {
    /// Every role, from the one painted first to the one painted last.
    pub(crate) const ALL: [Role; 19] = [
        Role::Room,
        Role::Side,
        Role::Hatch,
        Role::Flight,
        Role::Hidden,
        Role::Crease,
        Role::Outline,
        Role::Area,
        Role::Contour,
        Role::Mark,
        Role::HandWork,
        Role::Hole,
        Role::Dimension,
        Role::Balloon,
        Role::Label,
        Role::Note,
        Role::Join,
        Role::Frame,
        Role::CheckBar,
    ];

    /// Its name in files.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Role::Contour => "contour",
            Role::Hole => "holes",
            Role::Area => "areas",
            Role::HandWork => "hand-work",
            Role::Mark => "marks",
            Role::Label => "labels",
            Role::Note => "notes",
            Role::Frame => "frame",
            Role::CheckBar => "check-bars",
            Role::Join => "joins",
            Role::Room => "room",
            Role::Side => "sides",
            Role::Hatch => "hatching",
            Role::Flight => "flight-lines",
            Role::Hidden => "hidden-edges",
            Role::Crease => "creases",
            Role::Outline => "outlines",
            Role::Dimension => "dimensions",
            Role::Balloon => "part-marks",
        }
    }

    /// Whether its lines end and turn round, so that those of a picture close at their corners.
    pub(crate) const fn is_round(self) -> bool {
        matches!(self, Role::Side | Role::Crease | Role::Outline)
    }
}

/// One thing on the paper.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Item {
    /// What it stands for.
    pub(crate) role: Role,
    /// What it looks like.
    pub(crate) shape: ItemShape,
}

/// What a thing on the paper looks like.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum ItemShape {
    /// A line along a path.
    Stroke(Path, Pen),
    /// A filled area inside a closed path.
    Fill(Path, Ink),
    /// The outline of an ellipse.
    Ellipse(Ellipse, Pen),
    /// A line of words.
    Text(TextLine),
}

/// An ellipse in any position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Ellipse {
    /// Its centre.
    pub(crate) centre: Point,
    /// Half its long axis, in millimetres.
    pub(crate) half_length: f64,
    /// Half its short axis, in millimetres.
    pub(crate) half_width: f64,
    /// Direction of its long axis, in radians from the x axis.
    pub(crate) angle: f64,
}

impl Ellipse {
    /// The point at a parameter (radians; 0 is the end of the long axis).
    pub(crate) fn point_at(&self, parameter: f64) -> Point {
        self.centre
            + Point::polar(self.half_length * parameter.cos(), self.angle)
            + Point::polar(self.half_width * parameter.sin(), self.angle).left()
    }

    /// The derivative of [`Ellipse::point_at`].
    pub(crate) fn direction_at(&self, parameter: f64) -> Point {
        Point::polar(self.half_width * parameter.cos(), self.angle).left()
            + Point::polar(-self.half_length * parameter.sin(), self.angle)
    }

    /// The box around it.
    pub(crate) fn bounds(&self) -> Bounds {
        // Extremes of a rotated ellipse: the two axes' shadows add up as the sides of a right triangle.
        let (sin, cos) = self.angle.sin_cos();
        let x = (self.half_length * cos).hypot(self.half_width * sin);
        let y = (self.half_length * sin).hypot(self.half_width * cos);
        Bounds::new(
            self.centre - Point::new(x, y),
            self.centre + Point::new(x, y),
        )
    }
}

/// A path with everything about it so many times as large.
fn scaled(path: &Path, by: f64) -> Path {
    let vertex = |vertex: &Vertex| Vertex {
        point: vertex.point * by,
        bulge: vertex.bulge,
    };
    Path {
        vertices: path.vertices.iter().map(vertex).collect(),
        closed: path.closed,
    }
}

impl Item {
    /// A line along a path.
    pub(crate) fn stroke(role: Role, path: Path, pen: Pen) -> Self {
        Self {
            role,
            shape: ItemShape::Stroke(path, pen),
        }
    }

    /// A straight line.
    pub(crate) fn line(role: Role, from: Point, to: Point, pen: Pen) -> Self {
        Self::stroke(role, Path::line(from, to), pen)
    }

    /// A filled area.
    pub(crate) fn fill(role: Role, path: Path, ink: Ink) -> Self {
        Self {
            role,
            shape: ItemShape::Fill(path, ink),
        }
    }

    /// A line of words.
    pub(crate) fn text(role: Role, text: TextLine) -> Self {
        Self {
            role,
            shape: ItemShape::Text(text),
        }
    }

    /// The box around its ink, pens included; `None` for an empty path.
    pub(crate) fn bounds(&self) -> Option<Bounds> {
        match &self.shape {
            ItemShape::Stroke(path, pen) => path.bounds().map(|b| b.grown(pen.width / 2.0)),
            ItemShape::Fill(path, _) => path.bounds(),
            ItemShape::Ellipse(ellipse, pen) => Some(ellipse.bounds().grown(pen.width / 2.0)),
            ItemShape::Text(text) => Some(text.bounds()),
        }
    }

    /// The item with everything about it so many times as large, pens too.
    #[must_use]
    pub(crate) fn scaled(&self, by: f64) -> Self {
        let pen = |pen: &Pen| Pen {
            width: pen.width * by,
            ..*pen
        };
        let shape = match &self.shape {
            ItemShape::Stroke(path, own) => ItemShape::Stroke(scaled(path, by), pen(own)),
            ItemShape::Fill(path, ink) => ItemShape::Fill(scaled(path, by), *ink),
            ItemShape::Ellipse(ellipse, own) => ItemShape::Ellipse(
                Ellipse {
                    centre: ellipse.centre * by,
                    half_length: ellipse.half_length * by,
                    half_width: ellipse.half_width * by,
                    angle: ellipse.angle,
                },
                pen(own),
            ),
            ItemShape::Text(text) => ItemShape::Text(TextLine {
                at: text.at * by,
                size: text.size * by,
                ..text.clone()
            }),
        };
        Self {
            role: self.role,
            shape,
        }
    }

    /// The item moved by a vector.
    #[must_use]
    pub(crate) fn moved(&self, by: Point) -> Self {
        let shape = match &self.shape {
            ItemShape::Stroke(path, pen) => ItemShape::Stroke(path.moved(by), *pen),
            ItemShape::Fill(path, ink) => ItemShape::Fill(path.moved(by), *ink),
            ItemShape::Ellipse(ellipse, pen) => ItemShape::Ellipse(
                Ellipse {
                    centre: ellipse.centre + by,
                    ..*ellipse
                },
                *pen,
            ),
            ItemShape::Text(text) => ItemShape::Text(TextLine {
                at: text.at + by,
                ..text.clone()
            }),
        };
        Self {
            role: self.role,
            shape,
        }
    }
}
