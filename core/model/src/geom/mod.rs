//! Exact plane geometry in millimetres, y up: points, lines, circular arcs and what is built from them.
//!
//! It knows nothing of plans or formats. A curve is a [`Path`] of vertices with bulges, so an arc stays an arc
//! through every stage and into every format that has arcs.

mod arc;
mod bites;
mod bounds;
mod crossing;
mod cuts;
mod distance;
mod offset;
mod path;
mod point;
mod polyline;
mod region;
mod shape;

pub use arc::Arc;
pub use bounds::Bounds;
pub use cuts::Effort;
pub use distance::Closest;
pub use path::{Path, Segment, Vertex};
pub use point::Point;
pub use region::{Region, RegionFault};
pub use shape::{RoundingFault, circle, rectangle, rounded, rounded_rectangle};

/// Lengths closer than this, in millimetres, are one length. A tenth of the 1e-6 mm that exported coordinates
/// must keep.
pub const LENGTH_TOLERANCE: f64 = 1e-7;
