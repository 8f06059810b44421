//! A number and what kind of thing it counts.

use std::ops::Range;

use jigless_model::units::Unit;

use super::LengthFault;

/// What a number counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A number without a unit; it becomes a length in the plan's unit where a length belongs.
    Bare,
    /// A length over a length: a pure number that never becomes a length.
    Ratio,
    /// Millimetres.
    Length,
    /// Degrees.
    Angle,
}

impl Kind {
    fn name(self) -> &'static str {
        match self {
            Kind::Bare => "a number",
            Kind::Ratio => "a ratio of two lengths",
            Kind::Length => "a length",
            Kind::Angle => "an angle",
        }
    }
}

/// A number and what it counts: millimetres for a length, degrees for an angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// How much.
    pub value: f64,
    /// Of what.
    pub kind: Kind,
}

impl Quantity {
    /// A number without a unit.
    pub const fn bare(value: f64) -> Self {
        Self {
            value,
            kind: Kind::Bare,
        }
    }

    /// A length in millimetres.
    pub const fn length(mm: f64) -> Self {
        Self {
            value: mm,
            kind: Kind::Length,
        }
    }

    /// Millimetres, where a length belongs. `whole` is the range to blame.
    ///
    /// # Errors
    /// When it is a ratio or an angle.
    pub fn as_length(self, unit: Unit, whole: Range<usize>) -> Result<f64, LengthFault> {
        match self.kind {
            Kind::Length => Ok(self.value),
            Kind::Bare => Ok(self.value * unit.in_mm()),
            Kind::Ratio => Err(LengthFault::new(
                whole,
                "this is a length divided by a length, which is a pure number; a length belongs here",
                "multiply it by a length, or divide by a number without a unit",
            )),
            Kind::Angle => Err(LengthFault::new(
                whole,
                "this is an angle; a length belongs here",
                "write a length such as `12 mm` or `1/2 in`",
            )),
        }
    }

    /// Degrees, where an angle belongs. `whole` is the range to blame.
    ///
    /// # Errors
    /// When it is a length or a ratio.
    pub fn as_degrees(self, whole: Range<usize>) -> Result<f64, LengthFault> {
        match self.kind {
            Kind::Angle | Kind::Bare => Ok(self.value),
            Kind::Length | Kind::Ratio => Err(LengthFault::new(
                whole,
                format!(
                    "this is {}; an angle in degrees belongs here",
                    self.kind.name()
                ),
                "write degrees as a number: `45`",
            )),
        }
    }

    /// A pure number, where a count belongs. `whole` is the range to blame.
    ///
    /// # Errors
    /// When it is a length or an angle.
    pub fn as_number(self, whole: Range<usize>) -> Result<f64, LengthFault> {
        match self.kind {
            Kind::Bare | Kind::Ratio => Ok(self.value),
            Kind::Length | Kind::Angle => Err(LengthFault::new(
                whole,
                format!("this is {}; a plain number belongs here", self.kind.name()),
                "divide it by another of its kind: `floor(height / 32 mm)`",
            )),
        }
    }

    /// Both as the same kind, so that they can be added or compared: a bare number follows the other one.
    pub(super) fn matched(
        self,
        other: Quantity,
        unit: Unit,
        verb: &str,
        range: Range<usize>,
    ) -> Result<(f64, f64, Kind), LengthFault> {
        let adopt = |number: f64, kind: Kind| match kind {
            Kind::Length => number * unit.in_mm(),
            _ => number,
        };
        match (self.kind, other.kind) {
            (a, b) if a == b => Ok((self.value, other.value, a)),
            (Kind::Bare, kind) => Ok((adopt(self.value, kind), other.value, kind)),
            (kind, Kind::Bare) => Ok((self.value, adopt(other.value, kind), kind)),
            (a, b) => Err(LengthFault::new(
                range,
                format!("{} and {} cannot be {verb}", a.name(), b.name()),
                "use two lengths, or two plain numbers",
            )),
        }
    }

    pub(super) fn times(
        self,
        other: Quantity,
        range: Range<usize>,
    ) -> Result<Quantity, LengthFault> {
        let value = self.value * other.value;
        let kind = match (self.kind, other.kind) {
            (Kind::Bare, kind) | (kind, Kind::Bare) => kind,
            (Kind::Ratio, other) | (other, Kind::Ratio) => other,
            (Kind::Length, Kind::Length) => {
                return Err(LengthFault::new(
                    range,
                    "a length times a length is an area; a length belongs here",
                    "multiply a length by a number without a unit",
                ));
            }
            (a, b) => {
                return Err(LengthFault::new(
                    range,
                    format!("{} cannot be multiplied by {}", a.name(), b.name()),
                    "multiply by a number without a unit",
                ));
            }
        };
        Ok(Quantity { value, kind })
    }

    /// A quotient. A bare number over a length is read in the plan's unit, so `600 / 32 mm` counts steps.
    pub(super) fn over(
        self,
        other: Quantity,
        unit: Unit,
        range: Range<usize>,
    ) -> Result<Quantity, LengthFault> {
        if other.value == 0.0 {
            return Err(LengthFault::new(
                range,
                "this divides by zero",
                "check the value below the line",
            ));
        }
        if self.kind == Kind::Bare && other.kind == Kind::Length {
            return Ok(Quantity {
                value: self.value * unit.in_mm() / other.value,
                kind: Kind::Ratio,
            });
        }
        let value = self.value / other.value;
        let kind = match (self.kind, other.kind) {
            (kind, Kind::Bare | Kind::Ratio) => {
                if kind == Kind::Bare && other.kind == Kind::Ratio {
                    Kind::Ratio
                } else {
                    kind
                }
            }
            (Kind::Length, Kind::Length) | (Kind::Angle, Kind::Angle) => Kind::Ratio,
            (a, b) => {
                return Err(LengthFault::new(
                    range,
                    format!("{} cannot be divided by {}", a.name(), b.name()),
                    "divide a length by a length or by a number; a fraction takes its unit after it: `3/4 in`",
                ));
            }
        };
        Ok(Quantity { value, kind })
    }
}
