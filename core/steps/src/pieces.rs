//! Parts by name, mark and number, in words.

use jigless_model::mark::Marks;
use jigless_model::plan::Part;

use crate::step::Pieces;

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
