//! The room that a piece of furniture is made for.

use crate::source::{Span, Spanned};
use crate::whole::Box3;

/// The room that the author has for the whole, lengths in millimetres: the whole stands on its floor and against its back
/// wall.
#[derive(Debug, Clone, PartialEq)]
pub struct Space {
    /// From its left wall to its right one.
    pub width: Spanned<f64>,
    /// From its floor to its ceiling.
    pub height: Spanned<f64>,
    /// From its back wall to what stands opposite, with what opens toward it.
    pub depth: Spanned<f64>,
    /// From its left wall to the whole; the whole stands in its middle where nothing is said.
    pub left: Option<f64>,
    /// Where the plan says so.
    pub span: Span,
}

impl Space {
    /// Its box, in the coordinates of the whole.
    pub fn around(&self, whole: Box3) -> Box3 {
        let left = self
            .left
            .unwrap_or((self.width.value - whole.size(0)) / 2.0);
        let min = [whole.min[0] - left, whole.min[1], whole.min[2]];
        Box3 {
            min,
            max: [
                min[0] + self.width.value,
                min[1] + self.height.value,
                min[2] + self.depth.value,
            ],
        }
    }
}
