//! Units at the borders. Inside, every length is in millimetres and every angle in radians.

mod decimal;

pub use decimal::{Decimal, decimal, push_decimal};

/// Millimetres in an inch, exactly (international yard and pound agreement, 1959).
pub const MM_PER_INCH: f64 = 25.4;
/// Millimetres in a foot.
pub const MM_PER_FOOT: f64 = 12.0 * MM_PER_INCH;
/// PDF's default unit is 1/72 inch (ISO 32000-1, Table 30).
pub const POINTS_PER_INCH: f64 = 72.0;

crate::words! {
    /// The unit of bare numbers in a plan, and of what is written for people and machines.
    #[derive(Hash, Default, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
    pub enum Unit {
        /// Millimetres.
        #[default]
        #[serde(rename = "mm")]
        Millimetre = "mm",
        /// Inches.
        #[serde(rename = "in")]
        Inch = "in",
    }
}

impl Unit {
    /// Millimetres in one of this unit.
    pub const fn in_mm(self) -> f64 {
        match self {
            Unit::Millimetre => 1.0,
            Unit::Inch => MM_PER_INCH,
        }
    }

    /// The symbol: `mm` or `in`.
    pub const fn symbol(self) -> &'static str {
        self.name()
    }

    /// A length written for people in this unit, with its symbol: `12.5 mm`, `0.4921 in`.
    pub fn show(self, mm: f64) -> String {
        let decimals = match self {
            Unit::Millimetre => 2,
            Unit::Inch => 4,
        };
        format!("{} {}", decimal(mm / self.in_mm(), decimals), self.symbol())
    }
}

/// Millimetres as PDF points.
pub fn mm_to_points(mm: f64) -> f64 {
    mm * POINTS_PER_INCH / MM_PER_INCH
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_shown_with_its_unit() {
        assert_eq!(Unit::Millimetre.show(12.346), "12.35 mm");
        assert_eq!(Unit::Inch.show(12.7), "0.5 in");
    }

    /// The inch is exactly 25.4 mm since the agreement of 1959; PDF's unit is 1/72 in by ISO 32000-1, Table 30.
    #[test]
    fn an_inch_is_25_4_mm_and_72_points() {
        assert_eq!(Unit::Inch.in_mm().to_bits(), 25.4_f64.to_bits());
        assert!((mm_to_points(25.4) - 72.0).abs() < 1e-12);
        assert!((mm_to_points(210.0) - 595.275_590_551).abs() < 1e-6);
    }
}
