//! What is to be left of a sheet.

use jigless_model::geom::{Path, Point};

/// What is to be left of a sheet, from its upper face down.
#[derive(Debug, Clone, Default)]
pub struct Target {
    /// The layers, from the upper face down, without gaps.
    pub layers: Vec<Layer>,
    /// Conical mouths.
    pub cones: Vec<Cone>,
}

/// What is to be between two depths. All paths are closed.
#[derive(Debug, Clone, Default)]
pub struct Layer {
    /// Where it begins, in millimetres below the upper face.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// Outlines of the parts, which must stay but for `voids`.
    pub parts: Vec<Path>,
    /// What is not there of them.
    pub voids: Vec<Path>,
    /// What may go or stay: where corners are relieved, and mouths that are judged by themselves.
    pub spare: Vec<Path>,
    /// What must go: openings, holes and areas as far as a round tool reaches into them.
    pub clear: Vec<Path>,
    /// What must go around parts that are freed.
    pub rings: Vec<Ring>,
    /// Where tabs stand in those rings.
    pub tabs: Vec<Path>,
}

/// A band around a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    /// Its outer border.
    pub outer: Path,
    /// Its inner border: the part as a round tool leaves it.
    pub inner: Path,
}

/// A conical mouth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cone {
    /// Its middle.
    pub centre: Point,
    /// How deep the point of the tool goes, in millimetres.
    pub depth: f64,
    /// Its included angle in radians.
    pub angle: f64,
}
