//! Colours of materials in pictures and models. Each is told from the next by how light it is, so that they survive in
//! grey.

use jigless_model::plan::StockKind;

use crate::drawing::{Ink, Tint};

/// The colour of what a picture is about: no wood is blue, and in grey it is darker than every wood.
pub(crate) const ACCENT: [f64; 3] = [0.30, 0.52, 0.80];
/// The colour of what only shows where the rest is.
pub(crate) const FAINT: [f64; 3] = [1.0, 1.0, 1.0];

/// The colour of a stock as red, green and blue from 0 to 1, seen in full light. Stocks of a kind differ by their number
/// in the plan.
pub(crate) fn base_of(kind: StockKind, number: usize) -> [f64; 3] {
    let base = match kind {
        StockKind::Plywood => [0.94, 0.86, 0.72],
        StockKind::Solid => [0.88, 0.74, 0.55],
        StockKind::Mdf | StockKind::Hardboard => [0.80, 0.70, 0.58],
        StockKind::Particleboard | StockKind::Osb => [0.87, 0.80, 0.66],
        StockKind::Acrylic | StockKind::Pvc => [0.82, 0.90, 0.94],
        StockKind::Card => [0.90, 0.90, 0.86],
        StockKind::Other => [0.86, 0.86, 0.86],
    };
    let darker = 1.0 - 0.07 * (number % 4) as f64;
    base.map(|x| x * darker)
}

/// The ink of an area: a stock's colour, or grey, by how much light falls on it (0 to 1).
pub(crate) fn shaded(base: [f64; 3], light: f64, tint: Tint) -> Ink {
    let grey = 0.3 * base[0] + 0.59 * base[1] + 0.11 * base[2];
    let colour = match tint {
        Tint::Grey => [f64::midpoint(grey, 1.0); 3],
        Tint::Colour => base.map(|x| f64::midpoint(x, 1.0)),
    };
    let level = 0.72 + 0.28 * light;
    let [red, green, blue] = colour.map(|x| (x * level * 255.0).round().clamp(0.0, 255.0) as u8);
    Ink(red, green, blue)
}
