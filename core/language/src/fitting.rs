//! How a plan asks for hardware.

use jigless_model::hardware::{Fitting, FittingKind};

use crate::resolve::{Field, Fields, Shape};

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

/// Reads one.
pub fn read_fitting(fields: &Fields) -> Option<Fitting> {
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
    read_fitting(&map).map(Some).ok_or(())
}
