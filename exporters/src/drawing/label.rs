//! Labels that want room.
//!
//! Each request lists what it would say from the fullest to the shortest; what finds no room at all is given back, and
//! whoever asked says it elsewhere.

use jigless_model::geom::{Bounds, Point};

use super::item::Role;
use super::text::{Block, Turn};

/// What a label belongs to.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum LabelTarget {
    /// A hole or another round mark: its centre and the radius of what is drawn solid around it.
    Round(Point, f64),
    /// An area: inside it where there is room, or beside it.
    Box(Bounds),
    /// An edge, from one end to the other: along it, on its left-hand side first.
    Edge(Point, Point),
    /// This very place, or else near it.
    Point(Point),
    /// An area, and nowhere else.
    Inside(Bounds),
    /// Anywhere, as near to the point as can be.
    Near(Point),
}

impl LabelTarget {
    /// The point that decides which page the label is on.
    pub(crate) fn place(&self) -> Point {
        match self {
            LabelTarget::Round(at, _) | LabelTarget::Point(at) | LabelTarget::Near(at) => *at,
            LabelTarget::Box(bounds) | LabelTarget::Inside(bounds) => bounds.centre(),
            LabelTarget::Edge(from, to) => from.toward(*to, 0.5),
        }
    }

    /// The same moved by a vector.
    #[must_use]
    pub(crate) fn moved(&self, by: Point) -> Self {
        match self {
            LabelTarget::Round(at, radius) => LabelTarget::Round(*at + by, *radius),
            LabelTarget::Box(bounds) => LabelTarget::Box(bounds.moved(by)),
            LabelTarget::Edge(from, to) => LabelTarget::Edge(*from + by, *to + by),
            LabelTarget::Inside(bounds) => LabelTarget::Inside(bounds.moved(by)),
            LabelTarget::Point(at) => LabelTarget::Point(*at + by),
            LabelTarget::Near(at) => LabelTarget::Near(*at + by),
        }
    }
}

/// A label that wants room.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LabelRequest {
    /// What it is.
    pub(crate) role: Role,
    /// What it belongs to.
    pub(crate) target: LabelTarget,
    /// What it says, the fullest first.
    pub(crate) blocks: Vec<Block>,
    /// An arrow along the words, for the grain.
    pub(crate) arrow: Option<Turn>,
}

impl LabelRequest {
    /// A label without an arrow.
    pub(crate) fn new(role: Role, target: LabelTarget, blocks: Vec<Block>) -> Self {
        Self {
            role,
            target,
            blocks,
            arrow: None,
        }
    }
}
