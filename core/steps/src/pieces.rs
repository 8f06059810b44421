//! Parts by name, mark and number, in words, and what is done with them.

use jigless_model::mark::Marks;
use jigless_model::plan::{Part, Plan};
use jigless_model::units::Unit;
use jigless_model::whole::Motion;

use crate::step::{Fixing, Pieces};

/// So many pieces of a part.
pub(crate) fn pieces(part: &Part, marks: &Marks, count: u32) -> Pieces {
    Pieces {
        mark: marks.mark(&part.id).to_owned(),
        part: part.id.clone(),
        title: part.title.clone(),
        count,
    }
}

/// `Left side (A)`.
pub(crate) fn named(part: &Part, marks: &Marks) -> String {
    format!("{} ({})", part.title, marks.mark(&part.id))
}

/// Whether a part swings once it is in its place: a door.
pub(crate) fn swings(part: &Part) -> bool {
    part.motion.and_then(Motion::swings_about).is_some()
}

/// Whether a joint holds a part.
pub(crate) fn is_joined(plan: &Plan, part: &Part) -> bool {
    let mut joints = plan.joints.iter();
    joints.any(|joint| joint.part == part.id || joint.to == part.id)
}

/// ` of 45 mm`; nothing for what has no length.
pub(crate) fn of_length(fixing: &Fixing, unit: Unit) -> String {
    let length = fixing.length.map(|length| unit.show(length));
    length.map_or_else(String::new, |length| format!(" of {length}"))
}

/// `1 screw`, `3 screws`.
pub(crate) fn counted(count: u32, word: &str) -> String {
    if count == 1 {
        return format!("1 {word}");
    }
    let ending = if word.ends_with(['s', 'x']) || word.ends_with("ch") {
        "es"
    } else {
        "s"
    };
    format!("{count} {word}{ending}")
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
