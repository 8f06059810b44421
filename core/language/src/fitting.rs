//! How a plan asks for hardware.

use jigless_model::hardware::{Fitting, FittingKind};
use jigless_model::source::Spanned;

use crate::resolve::{Fields, Here, KeySet, KeyType, Map, Repeats, Shape, Size};

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

impl KeyType for Fitting {
    type Value = Fitting;
    const SHAPE: Shape = Shape::Map(FittingKeys::FIELDS);

    fn read_key(fields: &Fields, key: &'static str) -> Option<Spanned<Fitting>> {
        let keys = Map::<FittingKeys>::read_key(fields, key)?;
        Some(keys.map(FittingKeys::fitting))
    }
}

impl FittingKeys {
    /// The piece of hardware.
    pub(crate) fn fitting(self) -> Fitting {
        Fitting {
            kind: self.what,
            length: self.length,
            gauge: self.gauge,
            count: self.count,
            span: self.here,
        }
    }
}
