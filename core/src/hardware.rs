//! Screws, hinges, runners and the like: what is bought and not made, counted from the features that take it.

use crate::resolve::{Field, Fields, Shape};
use crate::source::Span;
use crate::workpiece::Workpiece;

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

const KIND_WORDS: &[&str] = &[
    "screw",
    "pocket screw",
    "bolt",
    "insert",
    "dowel",
    "nail",
    "hinge",
    "hinge plate",
    "runner",
    "shelf pin",
    "caster",
    "knob",
];

/// The keys of a piece of hardware.
pub const FITTING_FIELDS: &[Field] = &[
    Field::required("what", Shape::Word(KIND_WORDS), "what it is"),
    Field::optional("length", Shape::Size, "its length"),
    Field::optional("gauge", Shape::Text, "its gauge or diameter, as it is sold"),
    Field::with_default("count", Shape::Count, "1", "how many"),
];

/// What goes into each hole.
pub const HARDWARE: Field = Field::optional(
    "hardware",
    Shape::Map(FITTING_FIELDS),
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

    /// Reads one.
    pub fn read(fields: &Fields) -> Option<Fitting> {
        let what = fields.word("what");
        let length = fields
            .has("length")
            .then(|| fields.length("length"))
            .flatten();
        let gauge = fields.has("gauge").then(|| fields.text("gauge")).flatten();
        let count = crate::resolve::repeats(fields);
        let what = what?.value;
        let (_, kind) = FittingKind::ALL.iter().find(|(word, _)| *word == what)?;
        Some(Fitting {
            kind: *kind,
            length: length.map(|length| length.value),
            gauge: gauge.map(|gauge| gauge.value),
            count: count?,
            span: fields.span,
        })
    }

    /// Reads `hardware` of a feature: `Ok(None)` where it is not given, `Err` where it is wrong and that has been told.
    pub(crate) fn read_hardware(fields: &Fields) -> Result<Option<Fitting>, ()> {
        if !fields.has("hardware") {
            return Ok(None);
        }
        let map = fields.map("hardware").ok_or(())?;
        Fitting::read(&map).map(Some).ok_or(())
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
