//! Lengths as whole micrometres: sums are exact, so a layout that fits by arithmetic fits on every machine.

/// A length in whole micrometres.
pub type Micrometres = i64;

/// Millimetres as micrometres, to the nearest.
pub fn micrometres(millimetres: f64) -> Micrometres {
    (millimetres * 1000.0).round() as Micrometres
}

/// Micrometres as millimetres.
pub fn millimetres(micrometres: Micrometres) -> f64 {
    micrometres as f64 / 1000.0
}
