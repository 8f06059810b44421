//! How a plan asks for hardware.

use jigless_model::hardware::{Fitting, FittingKind};

use crate::resolve::{Field, Fields, Here, KeyType, Map, Repeats, Size};

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

impl FittingKeys {
    /// The piece of hardware.
    pub fn fitting(self) -> Fitting {
        Fitting {
            kind: self.what,
            length: self.length,
            gauge: self.gauge,
            count: self.count,
            span: self.here,
        }
    }
}

/// What goes into each hole.
pub const HARDWARE: Field = Field::optional(
    "hardware",
    Map::<FittingKeys>::SHAPE,
    "what goes into each hole, for the list of hardware",
);

/// Reads `hardware` of a feature: `Ok(None)` where it is not given, `Err` where it is wrong and that has been told.
pub fn read_hardware(fields: &Fields) -> Result<Option<Fitting>, ()> {
    let read = Option::<Map<FittingKeys>>::read_key(fields, "hardware").ok_or(())?;
    Ok(read.value.map(FittingKeys::fitting))
}
