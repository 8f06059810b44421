//! Screws, hinges, runners and the like: what is bought and not made.

use crate::source::Span;

/// What a piece of hardware is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FittingKind {
    /// A wood screw with a flat head.
    Screw,
    /// A screw with a washer head for an angled pocket.
    PocketScrew,
    /// A bolt with its nut and washers.
    Bolt,
    /// A threaded insert.
    Insert,
    /// A dowel.
    Dowel,
    /// A nail or pin.
    Nail,
    /// A cup hinge without its plate.
    Hinge,
    /// The plate of a cup hinge.
    HingePlate,
    /// One of a pair of drawer runners.
    Runner,
    /// A pin that carries a shelf.
    ShelfPin,
    /// A caster.
    Caster,
    /// A knob or pull.
    Knob,
}

impl FittingKind {
    /// Every kind with its word in a plan.
    pub const ALL: [(&'static str, FittingKind); 12] = [
        ("screw", FittingKind::Screw),
        ("pocket screw", FittingKind::PocketScrew),
        ("bolt", FittingKind::Bolt),
        ("insert", FittingKind::Insert),
        ("dowel", FittingKind::Dowel),
        ("nail", FittingKind::Nail),
        ("hinge", FittingKind::Hinge),
        ("hinge plate", FittingKind::HingePlate),
        ("runner", FittingKind::Runner),
        ("shelf pin", FittingKind::ShelfPin),
        ("caster", FittingKind::Caster),
        ("knob", FittingKind::Knob),
    ];

    /// The word in a plan.
    pub fn name(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, kind)| *kind == self)
            .map_or("", |(name, _)| name)
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

    /// Whether both are bought under one name.
    pub fn same_as(&self, other: &Fitting) -> bool {
        let length = match (self.length, other.length) {
            (Some(a), Some(b)) => (a - b).abs() < 1e-3,
            (a, b) => a.is_none() && b.is_none(),
        };
        self.kind == other.kind && self.gauge == other.gauge && length
    }
}
