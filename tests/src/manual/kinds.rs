//! The reference of features, joints, builders and usage: a section for each kind with its keys and an example that
//! stands in a plan of the fixtures.

use std::fmt::Write as _;

use jigless_core::build::BUILDERS;
use jigless_core::feature::FEATURES;
use jigless_core::joint::JOINTS;
use jigless_core::resolve::{Field, Shape};
use jigless_core::usage::USAGE;

use super::excerpt;
use super::keys::{Shared, same, tables};
use crate::fixtures::{fixture, sound_plans};

/// What is written of one kind.
struct Entry {
    key: &'static str,
    summary: &'static str,
    fields: &'static [Field],
}

/// The entries of a list of kinds; each list has a type of its own, with fields of the same names.
macro_rules! entries {
    ($kinds:expr) => {
        $kinds
            .iter()
            .map(|kind| Entry {
                key: kind.key,
                summary: kind.summary,
                fields: kind.fields,
            })
            .collect::<Vec<Entry>>()
    };
}

/// The features. Maps that several of them take are described once, after them.
pub(super) fn features() -> String {
    let entries = entries!(FEATURES);
    let is_map = |field: &Field| matches!(field.shape, Shape::Map(_) | Shape::Maps(_));
    let shared = shared_fields(&entries, 2, is_map);
    sections(&entries, &shared, |key| {
        example(key, |text| excerpt::items(text, "features", key))
    })
}

/// The joints. Keys that most of them take are described once, after them.
pub(super) fn joints() -> String {
    let entries = entries!(JOINTS);
    let shared = shared_fields(&entries, 3, |_| true);
    sections(&entries, &shared, |key| {
        example(key, |text| excerpt::items(text, "joints", key))
    })
}

/// The builders.
pub(super) fn builders() -> String {
    let entries = entries!(BUILDERS);
    sections(&entries, &[], |key| {
        example(key, |text| excerpt::builds(text, key))
    })
}

/// What the author knows of the use.
pub(super) fn usage() -> String {
    let entries = entries!(USAGE);
    sections(&entries, &[], |key| {
        example(key, |text| excerpt::items(text, "usage", key))
    })
}

/// Keys that at least so many kinds declare alike, in the order in which they are first met. Of one name there is one:
/// that of the most kinds.
fn shared_fields(entries: &[Entry], least: usize, wanted: impl Fn(&Field) -> bool) -> Vec<Field> {
    let kinds = |field: &Field| {
        let has = |entry: &&Entry| entry.fields.iter().any(|own| same(own, field));
        entries.iter().filter(has).count()
    };
    let mut shared: Vec<Field> = Vec::new();
    for field in entries.iter().flat_map(|entry| entry.fields) {
        if kinds(field) < least || !wanted(field) {
            continue;
        }
        match shared.iter_mut().find(|known| known.key == field.key) {
            Some(known) if kinds(field) > kinds(known) => *known = *field,
            Some(_) => {}
            None => shared.push(*field),
        }
    }
    shared
}

fn sections(
    entries: &[Entry],
    shared: &[Field],
    example: impl Fn(&'static str) -> String,
) -> String {
    const TITLE: &str = "Keys that several share";
    const ANCHOR: &str = "keys-that-several-share";
    let mut text = String::new();
    let known = Shared {
        fields: shared,
        anchor: ANCHOR,
    };
    for entry in entries {
        let _ = write!(
            text,
            "## `{}`\n\n{}.\n\n{}\n{}\n",
            entry.key,
            sentence(entry.summary),
            example(entry.key),
            tables(entry.key, entry.fields, &known)
        );
    }
    if !shared.is_empty() {
        let none = Shared {
            fields: &[],
            anchor: "",
        };
        let _ = write!(text, "## {TITLE}\n\n{}", tables("", shared, &none));
    }
    text
}

/// Words that begin with a capital.
pub(super) fn sentence(summary: &str) -> String {
    let mut letters = summary.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// The first plan of the fixtures that has entries of a kind, as a code block. The fixture of that name comes before all
/// others, and small ones before those that show how things go together.
///
/// # Panics
/// When no plan has any.
fn example(key: &str, entries: impl Fn(&str) -> Vec<String>) -> String {
    /// More than this is not read as an example.
    const MOST: usize = 4;
    let own = format!("features/{}", key.replace('_', "-"));
    let own = fixture(&own).is_dir().then_some(own);
    let (small, large): (Vec<_>, Vec<_>) = sound_plans()
        .into_iter()
        .partition(|plan| plan.starts_with("features/"));
    let plans = own.into_iter().chain(small).chain(large);
    let mut found = plans.filter_map(|plan| {
        let text = excerpt::read(&format!("fixtures/{plan}/plan.yaml"));
        let items = entries(&text);
        (!items.is_empty()).then_some((plan, items))
    });
    let Some((plan, items)) = found.next() else {
        panic!("no plan of the fixtures shows `{key}`")
    };
    let shown = items.iter().take(MOST).cloned().collect::<Vec<_>>();
    format!(
        "```yaml\n{}\n```\n\nFrom [{plan}](../../fixtures/{plan}/plan.yaml).\n",
        shown.join("\n")
    )
}
