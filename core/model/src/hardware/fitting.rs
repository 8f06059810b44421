//! Screws, hinges, runners and the like: what is bought and not made.

use crate::source::Span;
use crate::units::Unit;

crate::words! {
    /// What a piece of hardware is.
    #[derive(PartialOrd, Ord, Hash, serde::Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum FittingKind {
        /// A wood screw with a flat head.
        Screw = "screw",
        /// A screw with a washer head for an angled pocket.
        PocketScrew = "pocket screw",
        /// A bolt with its nut and washers.
        Bolt = "bolt",
        /// A threaded insert.
        Insert = "insert",
        /// A dowel.
        Dowel = "dowel",
        /// A nail or pin.
        Nail = "nail",
        /// A staple.
        Staple = "staple",
        /// A cup hinge without its plate.
        Hinge = "hinge",
        /// The plate of a cup hinge.
        HingePlate = "hinge plate",
        /// One of a pair of drawer runners.
        Runner = "runner",
        /// A pin that carries a shelf.
        ShelfPin = "shelf pin",
        /// A caster.
        Caster = "caster",
        /// A knob or pull.
        Knob = "knob",
        /// What fixes a unit to the wall: an angle, strap or screw for that wall.
        WallAnchor = "wall anchor",
    }
}

/// A piece of hardware and how many of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitting {
    /// What it is.
    pub kind: FittingKind,
    /// Length in millimetres, where it has one.
    pub length: Option<f64>,
    /// Gauge or diameter as it is sold.
    pub gauge: Option<String>,
    /// How many.
    pub count: u32,
    /// What asks for it.
    pub span: Span,
}

impl Fitting {
    /// One of a kind that has no sizes.
    pub fn plain(kind: FittingKind, count: usize, span: Span) -> Self {
        Self {
            kind,
            length: None,
            gauge: None,
            count: count as u32,
            span,
        }
    }

    /// The same for `times` holes.
    #[must_use]
    pub fn times(&self, times: usize) -> Self {
        Self {
            count: self.count * times as u32,
            ..self.clone()
        }
    }

    /// What it is bought as: `screw #8, 32 mm`.
    pub fn in_words(&self, units: Unit) -> String {
        let gauge = self.gauge.iter().map(|gauge| format!(" {gauge}"));
        let length = self
            .length
            .iter()
            .map(|length| format!(", {}", units.show(*length)));
        gauge
            .chain(length)
            .fold(self.kind.name().to_owned(), |words, more| words + &more)
    }

    /// Whether both are bought under one name.
    pub fn same_as(&self, other: &Fitting) -> bool {
        let length = match (self.length, other.length) {
            (Some(a), Some(b)) => (a - b).abs() < 1e-3,
            (a, b) => a.is_none() && b.is_none(),
        };
        self.kind == other.kind && self.gauge == other.gauge && length
    }
}
