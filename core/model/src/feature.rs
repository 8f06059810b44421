//! What a feature asks for, as plain data: read once, and put together with that of the others when a part is lowered.

use std::fmt;

use crate::diag::Finding;
use crate::fact::Fact;
use crate::geom::{Path, Point};
use crate::hardware::Fitting;
use crate::operation::Work;
use crate::side::{Corner, Edge};
use crate::source::{Span, Spanned};

/// How a corner of the rectangle is shaped.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CornerShape {
    /// Rounded with this radius.
    Radius(Spanned<f64>),
    /// Cut off at 45 degrees, so far from the corner.
    Chamfer(Spanned<f64>),
}

impl CornerShape {
    /// How much of each side it takes, in millimetres.
    pub fn reach(self) -> Spanned<f64> {
        match self {
            CornerShape::Radius(length) | CornerShape::Chamfer(length) => length,
        }
    }
}

/// A shape that a feature gives the contour of its part.
#[derive(Debug, Clone, PartialEq)]
pub enum Shaping {
    /// A corner of the rectangle is shaped.
    Corner(Spanned<Corner>, CornerShape),
    /// A closed shape is cut away, right through.
    Cut {
        /// What is cut away.
        shape: Path,
        /// Whether the corners of another part go into its corners.
        mating: bool,
        /// Where the plan asks for it.
        span: Span,
    },
    /// A closed shape takes the place of the rectangle.
    Outline(Spanned<Path>),
}

/// A line of arithmetic, in the author's unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Working {
    /// A line as it is.
    Line(String),
    /// How far something is from an edge: `cup centre from the left edge: 6.35 mm + 35 mm / 2 = 23.85 mm`.
    FromEdge {
        /// What is measured.
        what: &'static str,
        /// The edge that it is measured from.
        edge: Edge,
        /// The arithmetic.
        sum: String,
    },
}

impl Working {
    /// The line as it reads on the mirror image.
    #[must_use]
    pub fn mirrored(&self) -> Working {
        match self {
            Working::Line(line) => Working::Line(line.clone()),
            Working::FromEdge { what, edge, sum } => Working::FromEdge {
                what,
                edge: edge.mirrored(),
                sum: sum.clone(),
            },
        }
    }
}

impl fmt::Display for Working {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Working::Line(line) => f.write_str(line),
            Working::FromEdge { what, edge, sum } => {
                write!(f, "{what} from the {} edge: {sum}", edge.name())
            }
        }
    }
}

/// What one feature takes away, draws, takes along and knows.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct FeatureWork {
    /// Its work in its order, without short names: these are numbered within the part.
    pub work: Vec<Spanned<Work>>,
    /// What it gives the contour, in its order.
    pub shapes: Vec<Shaping>,
    /// Inside corners of its areas into which the corner of another part must go.
    pub mating: Vec<Point>,
    /// Its arithmetic that a builder can follow, a line each.
    pub workings: Vec<Working>,
    /// The hardware that it takes.
    pub fittings: Vec<Fitting>,
    /// What it knows of hardware and of other parts.
    pub facts: Vec<Fact>,
    /// What of it cannot be made.
    pub findings: Vec<Finding>,
}
