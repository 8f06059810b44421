//! A file as it was read.

use std::collections::BTreeMap;

use jigless_model::geom::{Bounds, Path, Segment};

/// Lines closer than this, in millimetres, are one line to a machine.
pub(super) const NEAR: f64 = 0.01;

/// A file as it was read. Lengths are in the file's own unit until [`Inspection::scale`] is applied.
#[derive(Debug, Clone, Default)]
pub struct Inspection {
    /// The format and its version: `DXF AC1015`.
    pub format: String,
    /// The unit that the file names, as a word; `None` where it names none.
    pub unit: Option<&'static str>,
    /// Millimetres in one of the file's units; 1 where it names none.
    pub scale: f64,
    /// Whether a file of this version can name its unit.
    pub can_name_unit: bool,
    /// Lines and arcs, in the order of the file.
    pub entities: Vec<Entity>,
    /// Texts by layer.
    pub texts: BTreeMap<String, usize>,
    /// What is wrong with it.
    pub faults: Vec<InspectionFault>,
}

/// One entity that a machine can follow.
#[derive(Debug, Clone, PartialEq)]
pub struct Entity {
    /// Its layer; of SVG the id of its group, or its stroke.
    pub layer: String,
    /// What the format calls it.
    pub kind: &'static str,
    /// Its line in millimetres.
    pub path: Path,
    /// Its height in millimetres.
    pub z: f64,
}

impl Entity {
    /// The closed line that it is, without the way in where it begins beside that line and ends where the way in came to
    /// it; `None` for an open one.
    pub fn contour(&self) -> Option<Path> {
        if self.path.closed {
            return Some(self.path.clone());
        }
        let [_, met, .., last] = self.path.vertices.as_slice() else {
            return None;
        };
        let count = self.path.vertices.len();
        (count > 3 && met.point.distance(last.point) < NEAR).then(|| Path {
            vertices: self.path.vertices[1..count - 1].to_vec(),
            closed: true,
        })
    }
}

/// Something that a machine would stumble over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InspectionFault {
    /// Stable name in kebab case.
    pub code: &'static str,
    /// What is wrong, and where.
    pub message: String,
}

impl InspectionFault {
    /// A fault.
    pub(super) fn new(code: &'static str, message: impl Into<String>) -> Self {
        Self {
            code,
            message: message.into(),
        }
    }
}

/// What a layer is for, by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum LayerUse {
    /// Read only.
    Information,
    /// Lines that need not be closed.
    Line,
    /// Areas, which may share borders.
    Area,
    /// Cuts: closed, and nothing twice.
    Cut,
}

impl LayerUse {
    /// By the words of this program; anything else is a cut.
    pub(super) fn of(layer: &str) -> LayerUse {
        let upper = layer.to_ascii_uppercase();
        let begins = |words: &[&str]| words.iter().any(|word| upper.starts_with(word));
        if begins(&["NOTES", "REFERENCE", "HAND_WORK", "PINS", "DEFPOINTS"]) {
            LayerUse::Information
        } else if begins(&["MARK", "CUT_OPEN"]) {
            LayerUse::Line
        } else if begins(&["GROOVE", "REBATE", "RECESS", "COUNTER"]) {
            LayerUse::Area
        } else {
            LayerUse::Cut
        }
    }
}

/// The most faults that are kept of a file, before those of a kind are summed up.
const MOST_FAULTS: usize = 10_000;

impl Inspection {
    /// Adds a fault. A hostile file must not make the list grow without end.
    pub(super) fn add_fault(&mut self, code: &'static str, message: impl Into<String>) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(InspectionFault::new(code, message));
        }
    }

    /// The box around everything but texts, in millimetres.
    pub fn bounds(&self) -> Option<Bounds> {
        self.entities
            .iter()
            .filter_map(|entity| entity.path.bounds())
            .reduce(Bounds::union)
    }

    /// The box around what is worked, in millimetres.
    pub fn worked(&self) -> Option<Bounds> {
        self.entities
            .iter()
            .filter(|entity| LayerUse::of(&entity.layer) != LayerUse::Information)
            .filter_map(|entity| entity.path.bounds())
            .reduce(Bounds::union)
    }

    /// The smallest radius that a tool must go around on its inside, in millimetres: that of an opening's corners and
    /// holes, and of an outline's bites.
    pub fn smallest_inside_radius(&self) -> Option<f64> {
        let closed: Vec<Path> = self
            .entities
            .iter()
            .filter(|entity| LayerUse::of(&entity.layer) == LayerUse::Cut)
            .filter_map(Entity::contour)
            .collect();
        let boxes: Vec<Option<Bounds>> = closed.iter().map(Path::bounds).collect();
        let mut smallest: Option<f64> = None;
        for (index, path) in closed.iter().enumerate() {
            let Some(first) = path.vertices.first() else {
                continue;
            };
            let around = (0..closed.len())
                .filter(|other| *other != index)
                .filter(|other| boxes[*other].is_some_and(|b| b.contains(first.point, 0.0)))
                .filter(|other| closed[*other].contains(first.point))
                .count();
            let is_opening = around % 2 == 1;
            let area = path.area();
            for segment in path.segments() {
                let Segment::Arc(arc) = segment else { continue };
                // An arc that turns with the path bulges out of the area that it holds.
                let bulges_out = arc.bulge * area > 0.0;
                if bulges_out == is_opening {
                    let radius = arc.radius();
                    smallest = Some(smallest.map_or(radius, |other| other.min(radius)));
                }
            }
        }
        smallest
    }
}
