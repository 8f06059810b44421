//! A carcass: sides, top, bottom, back, dividers, shelves, stretchers and a toe space.
//!
//! With `t` the thickness of the stock, `b` that of the back (`B` its thickest reading), and outside sizes `W` by `H`
//! by `D`:
//!
//! | what | formula |
//! |---|---|
//! | room between the sides | `W - 2 t` |
//! | back plane `z` (front of the back) | rebated: `B + slip`; applied: `b`; none: 0 |
//! | depth of what ends at the back | `D - z` |
//! | sides | `D` (less `b` with the back applied) by `H` (less `t` for a top over or a bottom under them) |
//! | top or bottom in rebates `r` deep | `W - 2 (t - r)` |
//! | fixed shelf in housings `h` deep | `W - 2 t + 2 h - play` |
//! | divider | from the floor it stands on to the next one; `n` of them leave `(W - 2 t - n t) / (n + 1)` between |
//! | back in rebates `r` deep | `W - 2 (t - r) - play` wide; from the underside of the bottom to `H - (t - r) - play / 2` |
//! | loose shelf | `W - 2 t - 2 gap` by `D - z - setback` |
//! | kick board | `W - 2 t` by the height of the toe space |
//!
//! Stretchers take their part of a room: at the front from its height, at the back from the length of drawers.
//!
//! Rooms that later builders fill: one for each floor, called after what is below it (`cabinet-bottom`,
//! `cabinet-deck`); where dividers stand, one for each bay from the left (`cabinet-deck-1`).

mod back;
mod frame;
mod inner;
mod keys;
mod rooms;

use super::{BuildContext, BuilderKind};
use crate::resolve::{Fields, KeySet};

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "carcass",
    summary: "sides, top, bottom, back, dividers, shelves, stretchers and a toe space",
    fields: keys::CarcassKeys::FIELDS,
    build,
};

fn build(fields: &Fields, built: &mut BuildContext) -> Option<()> {
    let frame = frame::CarcassFrame::read(fields, built)?;
    let floors = inner::Floors::new(built, &frame)?;
    frame.make(built);
    // What follows may use the rooms all the same: one fault is one finding.
    rooms::publish(built, &frame, &floors);
    inner::make(built, &frame, &floors)?;
    back::fix(built, &frame, &floors)
}
