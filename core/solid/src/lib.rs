//! Placed pieces as exact bodies, and pictures of them as lines and areas on paper.
//!
//! [`solid()`] makes the body of a part: the part is a stack of slabs between the depths at which some work ends
//! ([`slabs`]), cut off at the planes of its bevels ([`bevel`]); countersinks, holes in edges and angled bores are then cut
//! into its facets ([`bore`]). [`pieces`] puts every piece of a plan in its place.
//!
//! What is exact: every flat side. What is not: a curve is a run of chords, none further from it than [`CHORD_ERROR`];
//! a hole that meets other work on its way, other than square to a face, is left out or drawn simpler and named in
//! [`Solid::simplified`].

pub mod arrange;
mod bevel;
mod bore;
mod contact;
mod finishing;
mod grid;
mod mesh;
mod piece;
mod pose;
mod slabs;
mod solid;
mod triangles;
pub mod vector;
pub mod view;
mod weight;

pub use bevel::behind;
pub use finishing::finishing;
pub use grid::CHORD_ERROR;
pub use mesh::{Facet, Measures, Mesh, MeshEdge};
pub use piece::{Piece, pieces};
pub use pose::Pose;
pub use solid::{Solid, solid};
pub use weight::{Weights, weights};
