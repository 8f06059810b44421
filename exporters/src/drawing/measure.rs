//! Lengths as words on the paper.

use jigless_core::units::{Unit, decimal};

/// Writes lengths in one unit.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lengths {
    /// The unit.
    pub(crate) unit: Unit,
}

impl Lengths {
    /// The bare number: the paper says once which unit holds. Millimetres to 0.01, inches to 0.0001.
    pub(crate) fn bare(self, mm: f64) -> String {
        let decimals = match self.unit {
            Unit::Millimetre => 2,
            Unit::Inch => 4,
        };
        decimal(mm / self.unit.in_mm(), decimals)
    }

    /// The number with its unit.
    pub(crate) fn full(self, mm: f64) -> String {
        format!("{} {}", self.bare(mm), self.unit.symbol())
    }
}

/// An angle in degrees, from radians.
pub(crate) fn degrees(radians: f64) -> String {
    format!("{}°", decimal(radians.to_degrees(), 2))
}
