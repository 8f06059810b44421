//! Joints as plain data: what holds two parts together, and where they meet.

use crate::source::Span;
use crate::whole::{Body, Box3, Direction, Triple};

/// Lengths that differ by less are meant to be the same, in millimetres: far below what anyone can cut, and above what
/// sums of lengths lose.
pub const TOUCH: f64 = 1e-3;

crate::words! {
    /// What holds the parts of a joint together.
    pub enum With {
        /// Screws through one part into the other.
        Screws = "screws",
        /// Screws in angled pockets.
        PocketScrews = "pocket screws",
        /// Dowels.
        Dowels = "dowels",
        /// Bolts into threaded inserts.
        Bolts = "bolts",
        /// Glue alone.
        Glue = "glue",
        /// Nothing.
        Nothing = "nothing",
    }
}

/// What holds two parts together.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// Key of its kind (`butt`).
    pub kind: &'static str,
    /// The part that comes to the other one.
    pub part: String,
    /// The part that takes it.
    pub to: String,
    /// What holds it.
    pub with: With,
    /// Whether the part goes into a cut of the other one.
    pub housed: bool,
    /// Where the two meet: one for each pair of pieces. Empty where they have no places.
    pub meetings: Vec<Meeting>,
    /// How many times the joint is made.
    pub count: u32,
    /// Where glue goes, over all its meetings; `None` where it is not glued.
    pub glue: Option<GlueLine>,
    /// Whether the part lifts off when what holds it is out.
    pub lifts_off: bool,
    /// Screws, as far as places say where they go.
    pub screws: Vec<DrivenScrew>,
    /// Where the plan asks for it.
    pub span: Span,
}

/// Where glue goes.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct GlueLine {
    /// Length of the line in millimetres.
    pub length: f64,
    /// What is spread with glue, in square millimetres: what touches, of one of the two parts.
    pub area: f64,
}

impl GlueLine {
    /// Both multiplied.
    #[must_use]
    pub fn times(self, by: f64) -> Self {
        Self {
            length: self.length * by,
            area: self.area * by,
        }
    }

    /// Both added up.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            length: self.length + other.length,
            area: self.area + other.area,
        }
    }
}

/// A screw in its place in the whole.
#[derive(Debug, Clone, PartialEq)]
pub struct DrivenScrew {
    /// The part that it goes through.
    pub through: String,
    /// The part that it ends in.
    pub into: String,
    /// Where the driver comes in: in the face, before the head.
    pub mouth: Triple,
    /// Where its head is, from which its length counts.
    pub head: Triple,
    /// Where its tip is.
    pub tip: Triple,
}

/// How much room a straight driver with its bit takes behind the face that it comes in at, in millimetres. Common
/// practice, no source: a bit holder and the chuck of a small drill.
pub const DRIVER: f64 = 150.0;

const OUTLINE: &str = "place of ";

/// What stands at the pencil outline on which a part, by its id, is set.
pub fn outline_label(part: &str) -> String {
    format!("{OUTLINE}{part}")
}

/// The part that is set on a pencil outline, by what stands at it.
pub fn outlined_part(label: &str) -> Option<&str> {
    label.strip_prefix(OUTLINE)
}

impl DrivenScrew {
    /// The line on which a straight driver of a length stands: from where it comes in to its other end.
    pub fn driver(&self, length: f64) -> (Triple, Triple) {
        let out = [0, 1, 2].map(|i| self.head[i] - self.tip[i]);
        let whole = out.iter().map(|x| x * x).sum::<f64>().sqrt();
        let end = [0, 1, 2].map(|i| self.mouth[i] + out[i] / whole * length);
        (self.mouth, end)
    }
}

/// Two pieces where they meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meeting {
    /// Body of the part that comes.
    pub part: Body,
    /// Body of the part that takes it.
    pub to: Body,
    /// Number of the piece that comes, from 0.
    pub part_piece: usize,
    /// Number of the piece that takes it, from 0.
    pub to_piece: usize,
}

impl Meeting {
    /// What both boxes have in common: flat where they only touch.
    pub fn common(&self) -> Box3 {
        self.part.bounds().common(self.to.bounds())
    }

    /// The direction from the part to the other one, where they touch with a side each.
    pub fn touching(&self) -> Option<Direction> {
        let common = self.common();
        let flat = |axis: usize| common.size(axis).abs() <= TOUCH;
        let axis = (0..3).find(|axis| flat(*axis))?;
        if (0..3).any(|other| other != axis && common.size(other) <= TOUCH) {
            return None;
        }
        let (part, to) = (self.part.bounds(), self.to.bounds());
        let ahead = (part.max[axis] - to.min[axis]).abs() <= TOUCH;
        Some(Direction::along(axis, if ahead { 1.0 } else { -1.0 }))
    }
}
