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
mod keys;

use super::{BuildContext, BuilderKind};
use crate::codes;
use crate::resolve::{Fields, KeySet};
use jigless_model::diag::Finding;

pub(super) static KIND: BuilderKind = BuilderKind {
    key: "drawer",
    summary: "a drawer on side runners, or a bank of them: box, grooved bottom, false front and runner holes in the walls",
    fields: keys::DrawerKeys::FIELDS,
    build,
};

fn build(fields: &Fields, built: &mut BuildContext) -> Option<()> {
    let bank = bank::Bank::read(fields, built)?;
    let sizes = boxes::Sizes::new(built, &bank)?;
    let kinds = bank.kinds();
    for (index, levels) in kinds.iter().enumerate() {
        let number = (kinds.len() > 1).then_some(index + 1);
        boxes::make(built, &bank, &sizes, number, levels)?;
    }
    boxes::runners_in_walls(built, &bank, &sizes)?;
    ask_for_rows(built, &bank);
    Some(())
}

/// A row of holes that nobody has read off a data sheet is reported.
fn ask_for_rows(built: &BuildContext, bank: &bank::Bank) {
    let keys = [
        ("wall_offsets", bank.keys.wall_offsets.is_none()),
        ("box_offsets", bank.keys.box_offsets.is_none()),
    ];
    let missing: Vec<&str> = keys
        .iter()
        .filter(|(_, none)| *none)
        .map(|(key, _)| *key)
        .collect();
    if !missing.is_empty() {
        let message = format!(
            "the runners of `{}` are screwed through the holes of one runner that no source stands behind",
            built.name
        );
        let fix = format!(
            "write `{}` as the data sheet of yours says",
            missing.join("` and `")
        );
        built.find(Finding::warning(codes::RUNNER_ROWS_ASSUMED, bank.keys.here, message).fix(fix));
    }
}
