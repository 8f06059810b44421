//! How deep a router's through cuts go.

use jigless_model::plan::Stock;
use jigless_model::units::Unit;

use super::router_options::RouterOptions;

/// The depth of through cuts below the face, in millimetres: beyond the thickest reading, so that the cut is through
/// wherever the sheet is thickest; or short of the thinnest, so that a skin is left wherever it is thinnest.
pub(super) fn depth(options: &RouterOptions, stock: &Stock) -> f64 {
    match options.skin {
        Some(skin) => thinnest(stock) - skin,
        None => stock.thickest() + options.overcut,
    }
}

/// What a file says of it.
pub(super) fn statement(options: &RouterOptions, stock: &Stock, unit: Unit) -> String {
    let depth = unit.show(depth(options, stock));
    match options.skin {
        Some(skin) => format!(
            "Through cuts go {depth} deep and leave a skin of {} to {}: cut or sand it off by hand",
            unit.show(skin),
            unit.show(skin + stock.thickest() - thinnest(stock))
        ),
        None => format!(
            "Through cuts go {depth} deep, {} beyond the thickest reading: lay a spoil board below",
            unit.show(options.overcut)
        ),
    }
}

/// The least reading in millimetres.
fn thinnest(stock: &Stock) -> f64 {
    stock
        .readings
        .iter()
        .copied()
        .fold(stock.thickness, f64::min)
}
