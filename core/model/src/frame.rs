//! The size of a part, and points on it that are measured from its edges.

use crate::geom::Point;
use crate::side::Edge;

/// The size of a part, against which places are measured, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// Along x.
    pub width: f64,
    /// Along y.
    pub height: f64,
    /// Measured thickness.
    pub thickness: f64,
}

impl Frame {
    /// Length of an edge.
    pub fn edge_length(&self, edge: Edge) -> f64 {
        if edge.is_upright() {
            self.height
        } else {
            self.width
        }
    }

    /// How far it is from an edge to the opposite one.
    pub fn across(&self, edge: Edge) -> f64 {
        if edge.is_upright() {
            self.width
        } else {
            self.height
        }
    }

    /// The point at `along` (from the left or bottom end of the edge) and `inward` (from the edge into the part).
    pub fn from_edge(&self, edge: Edge, along: f64, inward: f64) -> Point {
        match edge {
            Edge::Left => Point::new(inward, along),
            Edge::Right => Point::new(self.width - inward, along),
            Edge::Bottom => Point::new(along, inward),
            Edge::Top => Point::new(along, self.height - inward),
        }
    }
}
