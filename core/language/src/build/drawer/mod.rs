//! A drawer on side runners, or a bank of them one above the other, in one room or in several equal ones.
//!
//! With `t` the thickness of the box's sides, `B` the bottom at its thickest reading, and a room `W` wide between its
//! walls:
//!
//! | what | formula |
//! |---|---|
//! | box | `W - 2 clearance` wide, `length` long |
//! | height of the box | `floor((room - 20 mm) / 10 mm) 10 mm`, by the lowest room of the bank |
//! | inside | box less `2 t` |
//! | front and back of the box | inside width `+ 2 rebate` |
//! | bottom | inside `+ 2 groove - play`, both ways |
//! | groove | `B + slip` wide, `groove_up` from the lower edge |
//! | fronts | as doors: overlay or inset; even ones `(opening - (n - 1) gap) / n` high |
//! | front beside others | as wide as its bay and half of each divider; at the side of a cabinet, the whole side |
//! | runner | its screw line at half the height of the box, at the same height in box and wall |

mod bank;
mod boxes;
mod fields;

use super::{BuilderKind, Built};
use crate::resolve::Fields;

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "drawer",
    summary: "a drawer on side runners, or a bank of them: box, grooved bottom, false front and runner holes in the walls",
    fields: fields::FIELDS,
    build,
};

fn build(fields: &Fields, built: &mut Built) -> Option<()> {
    let bank = bank::Bank::read(fields, built)?;
    let sizes = boxes::Sizes::read(fields, &bank)?;
    for (index, heights) in bank.kinds().iter().enumerate() {
        let role = if bank.kinds().len() == 1 {
            String::new()
        } else {
            format!("{}-", index + 1)
        };
        boxes::make(fields, built, &bank, &sizes, &role, heights)?;
    }
    boxes::runners_in_walls(fields, built, &bank, &sizes)
}
