//! When two lengths are one.

/// Lengths that differ by less are the same, in millimetres: what shows with two decimals.
pub(super) const SAME: f64 = 0.005;
