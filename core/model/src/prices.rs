//! What things cost, as far as the author says. Sheets, boards and finishes have their price with them.

use crate::hardware::{Fitting, FittingKind};
use crate::source::Span;

/// The plan's `prices:`.
#[derive(Debug, Clone, Default)]
pub struct Prices {
    /// What the prices of the plan are in, as the author writes it.
    pub currency: Option<String>,
    /// What one of a kind of hardware costs, in the order of the plan.
    pub hardware: Vec<HardwarePrice>,
}

/// What one of a kind of hardware costs.
#[derive(Debug, Clone, PartialEq)]
pub struct HardwarePrice {
    /// What it is.
    pub kind: FittingKind,
    /// Length in millimetres; of every length where the plan gives none.
    pub length: Option<f64>,
    /// Gauge or diameter as it is sold; of every one where the plan gives none.
    pub gauge: Option<String>,
    /// The price of one.
    pub price: f64,
    /// Where the plan says it.
    pub span: Span,
}

impl Prices {
    /// What one of a fitting costs: of several lines that are of it, the one that says the most.
    pub fn of(&self, fitting: &Fitting) -> Option<f64> {
        let of_it = self.hardware.iter().filter(|line| line.is_of(fitting));
        let says = |line: &&HardwarePrice| {
            (
                u8::from(line.length.is_some()) + u8::from(line.gauge.is_some()),
                line.span,
            )
        };
        of_it.max_by_key(says).map(|line| line.price)
    }
}

impl HardwarePrice {
    fn is_of(&self, fitting: &Fitting) -> bool {
        let length = match (self.length, fitting.length) {
            (Some(own), Some(length)) => (own - length).abs() < 1e-3,
            (own, _) => own.is_none(),
        };
        let gauge = self.gauge.is_none() || self.gauge == fitting.gauge;
        self.kind == fitting.kind && length && gauge
    }
}
