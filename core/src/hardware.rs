//! Screws, hinges, runners and the like: what is bought and not made, counted from the features that take it.

use crate::resolve::{Field, Fields, Here, KeyType, Map, Repeats, Size};
use crate::source::Span;
use crate::workpiece::Workpiece;

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
    }
}

crate::fields! {
    /// The keys of a piece of hardware.
    pub struct FittingKeys {
        /// where it is written
        here: Here,
        /// what it is
        what: FittingKind,
        /// its length
        length: Option<Size>,
        /// its gauge or diameter, as it is sold
        gauge: Option<String>,
        /// how many
        count: Repeats = "1",
    }
}

/// What goes into each hole.
pub const TAKES: Field = Field::optional(
    "takes",
    Map::<FittingKeys>::SHAPE,
    "what goes into each hole, for the list of hardware",
);

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

    /// Reads `takes` of a feature: `Ok(None)` where it is not given, `Err` where it is wrong and that has been told.
    pub(crate) fn read_takes(fields: &Fields) -> Result<Option<Fitting>, ()> {
        if !fields.has("takes") {
            return Ok(None);
        }
        let takes = Map::<FittingKeys>::read(fields, "takes").ok_or(())?;
        Ok(Some(takes.value.into()))
    }
}

impl From<FittingKeys> for Fitting {
    fn from(keys: FittingKeys) -> Self {
        Self {
            kind: keys.what,
            length: keys.length,
            gauge: keys.gauge,
            count: keys.count,
            span: keys.here,
        }
    }
}

/// One line of the list of hardware.
#[derive(Debug, Clone, PartialEq)]
pub struct HardwareLine {
    /// What, and the sizes; its count is that of the whole plan.
    pub fitting: Fitting,
    /// The parts that take it and how many each of them takes over all its pieces, in the order of the plan.
    pub parts: Vec<(String, u32)>,
}

/// Everything that is bought for a plan, in order of kind, gauge and length.
pub fn count(workpieces: &[Workpiece]) -> Vec<HardwareLine> {
    let mut lines: Vec<HardwareLine> = Vec::new();
    for workpiece in workpieces {
        let part = &workpiece.part;
        for fitting in workpiece.fittings.iter().chain(&part.fittings) {
            let number = fitting.count * part.count;
            match lines.iter().position(|line| line.fitting.same_as(fitting)) {
                Some(index) => {
                    let line = &mut lines[index];
                    line.fitting.count += number;
                    match line.parts.iter_mut().find(|(id, _)| *id == part.id) {
                        Some((_, count)) => *count += number,
                        None => line.parts.push((part.id.clone(), number)),
                    }
                }
                None => lines.push(HardwareLine {
                    fitting: Fitting {
                        count: number,
                        ..fitting.clone()
                    },
                    parts: vec![(part.id.clone(), number)],
                }),
            }
        }
    }
    lines.sort_by(|a, b| {
        let (a, b) = (&a.fitting, &b.fitting);
        (a.kind, &a.gauge)
            .cmp(&(b.kind, &b.gauge))
            .then(a.length.unwrap_or(0.0).total_cmp(&b.length.unwrap_or(0.0)))
    });
    lines
}
