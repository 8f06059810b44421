//! Names that the plan language had before, and what they are called now.
//!
//! A plan that uses an old name gets an error that says the present one. The finding knows both
//! ([`Finding::renamed`]), and `jigless migrate` writes the one in place of the other, so this table is the only place
//! where a renaming is declared.

use jigless_model::diag::{Finding, Renamed};
use jigless_model::source::Span;

use crate::codes;
use crate::load::{Entry, Node, Value};

const fn renamed(old: &'static str, now: &'static str, place: &'static str) -> Renamed {
    Renamed { old, now, place }
}

/// Keys. An old key may have become several: the one that the map at hand takes is meant.
pub static KEYS: &[Renamed] = &[
    renamed(
        "allow",
        "accept",
        "a feature, part, stock or entry of `usage`",
    ),
    renamed("assembly", "usage", "the plan, and files that it includes"),
    renamed(
        "takes",
        "hardware",
        "features that something bought goes into: `hole`, `hole_row`, `edge_hole`, `runner_holes`, `caster_plate`",
    ),
    renamed(
        "takes",
        "receives",
        "features that another part goes into: `groove`, `rebate`, `notch`, `cutout`",
    ),
    renamed("on", "stands_on", "a carcass, and its `dividers`"),
    renamed("on", "above", "`loose` shelves of a carcass"),
    renamed("on", "side", "`door` under `usage`"),
    renamed("on", "in", "`finger_cut` of a divider tray"),
];

/// Words that are values.
pub static WORDS: &[Renamed] = &[renamed("on", "applied", "`back` of a carcass")];

/// Codes of checks.
pub static CHECKS: &[Renamed] = &[
    renamed(
        "needless-allowance",
        "needless-acceptance",
        "`accept` and `checks`",
    ),
    renamed(
        "wood-has-no-room",
        "panel-movement-restricted",
        "`accept` and `checks`",
    ),
    renamed(
        "cups-miss-plates",
        "hinge-cups-misaligned",
        "`accept` and `checks`",
    ),
];

/// What a key that a map does not take is called there now, if it was renamed.
pub fn key(old: &str, taken: &[&str]) -> Option<&'static Renamed> {
    find(KEYS, old, taken)
}

/// What a word that does not belong there is called now, if it was renamed.
pub fn word(old: &str, words: &[&str]) -> Option<&'static Renamed> {
    find(WORDS, old, words)
}

/// What a check is called now, if it was renamed.
pub fn check(old: &str) -> Option<&'static Renamed> {
    CHECKS.iter().find(|renamed| renamed.old == old)
}

fn find(table: &'static [Renamed], old: &str, taken: &[&str]) -> Option<&'static Renamed> {
    let mut meant = table.iter().filter(|renamed| renamed.old == old);
    meant.find(|renamed| taken.contains(&renamed.now))
}

/// The entry of a key, also under a name that it had before, so that a plan is read to its end and all its old names are
/// reported in one run.
pub fn entry<'a>(entries: &'a [Entry], key: &str) -> Option<&'a Entry> {
    let named = |name: &str| entries.iter().find(|entry| entry.key.value == name);
    named(key).or_else(|| {
        let mut old = KEYS.iter().filter(|renamed| renamed.now == key);
        old.find_map(|renamed| named(renamed.old))
    })
}

/// The value of a key, if this is a map that has it; see [`entry`].
pub fn get<'a>(node: &'a Node, key: &str) -> Option<&'a Node> {
    match &node.value {
        Value::Map(entries) => entry(entries, key).map(|entry| &entry.value),
        _ => None,
    }
}

/// Reports an old name.
pub fn finding(span: Span, renamed: &'static Renamed) -> Finding {
    let Renamed { old, now, .. } = renamed;
    Finding::error(
        codes::OLD_NAME,
        span,
        format!("`{old}` is now called `{now}`"),
    )
    .fix(format!(
        "write `{now}`; `jigless migrate PLAN` rewrites all old names of a plan"
    ))
    .renamed(renamed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_old_key_is_called_by_what_the_map_takes() {
        let called = |old, taken: &[&str]| key(old, taken).map(|renamed| renamed.now);
        assert_eq!(called("takes", &["at", "hardware"]), Some("hardware"));
        assert_eq!(called("takes", &["along", "receives"]), Some("receives"));
        assert_eq!(called("takes", &["along"]), None);
        assert_eq!(called("at", &["at", "hardware"]), None);
    }

    /// Otherwise a plan that was rewritten would have to be rewritten again.
    #[test]
    fn no_name_of_today_is_an_old_one() {
        for table in [KEYS, WORDS, CHECKS] {
            for renamed in table {
                assert!(
                    table.iter().all(|other| other.old != renamed.now),
                    "{renamed:?}"
                );
            }
        }
    }
}
