//! Builders: from what an author thinks of (a carcass, a drawer, a tray) to ordinary parts.
//!
//! A builder works on the tree, before parts are read: it makes the same entries that an author would have written
//! under `parts:`. So every feature, check and exporter sees ordinary parts, and the plan can be printed with all of
//! them written out. A part that the plan also lists under `parts:` is made by the builder and changed by the plan
//! (see [`merge`]).
//!
//! Adding one means a module with a [`BuilderKind`] and a line in [`BUILDERS`].

mod divider_tray;
mod draft;
pub mod merge;

pub use draft::{PartDraft, entry, length, list, map, text};

use std::sync::Arc;

use crate::diag::{Finding, nearest};
use crate::load::{Entry, Value};
use crate::plan::Stock;
use crate::resolve::{Context, Field, Fields};
use crate::source::Span;

/// A kind of builder: what the plan calls it and how it works.
#[derive(Debug)]
pub struct BuilderKind {
    /// Its key in a plan.
    pub key: &'static str,
    /// One line on what it makes.
    pub summary: &'static str,
    /// Its keys.
    pub fields: &'static [Field],
    /// Makes the parts. Everything wrong has been told through the fields where this gives `None`.
    pub build: fn(&Fields, &mut Built) -> Option<()>,
}

/// Every kind of builder, in the order in which the manual shows them.
pub static BUILDERS: &[&BuilderKind] = &[&divider_tray::KIND];

/// Where a builder puts its parts.
#[derive(Debug)]
pub struct Built<'a> {
    /// The name that the plan gives to what is built; the names of its parts begin with it.
    pub name: &'a str,
    /// Where the plan asks for it.
    pub span: Span,
    stocks: &'a [Arc<Stock>],
    parts: Vec<Entry>,
}

impl Built<'_> {
    /// The stock that a key of the builder names; tells if there is none.
    pub fn stock(&self, fields: &Fields, key: &'static str) -> Option<Arc<Stock>> {
        let name = fields.text(key)?;
        let found = self.stocks.iter().find(|stock| stock.id == name.value);
        if found.is_none() {
            crate::resolve::unknown_stock(fields.context(), &name, self.stocks);
        }
        found.cloned()
    }

    /// Adds a part called after its role: `tray` and `divider` make `tray-divider`.
    pub fn part(&mut self, role: &str, draft: PartDraft) {
        let id = format!("{}-{role}", self.name);
        self.parts.push(draft.into_entry(id, self.span));
    }
}

/// Runs every builder that the plan asks for.
pub(crate) fn run(context: Context, builds: &[Entry], stocks: &[Arc<Stock>]) -> Vec<Entry> {
    let mut parts = Vec::new();
    for build in builds {
        let Some((kind, fields)) = kind_of(context, build) else {
            continue;
        };
        let mut built = Built {
            name: &build.key.value,
            span: build.key.span,
            stocks,
            parts: Vec::new(),
        };
        if (kind.build)(&fields, &mut built).is_some() {
            parts.append(&mut built.parts);
        }
    }
    parts
}

fn kind_of<'a>(
    context: Context<'a>,
    build: &'a Entry,
) -> Option<(&'static BuilderKind, Fields<'a>)> {
    let entries = match &build.value.value {
        Value::Map(entries) => entries.as_slice(),
        _ => &[],
    };
    let [entry] = entries else {
        context.find(
            Finding::error(
                "bad-build",
                build.key.span,
                format!("`{}` must have one builder", build.key.value),
            )
            .fix("write a name, and under it one builder with its keys"),
        );
        return None;
    };
    let key = entry.key.value.as_str();
    let Some(kind) = BUILDERS.iter().find(|kind| kind.key == key) else {
        let keys: Vec<&str> = BUILDERS.iter().map(|kind| kind.key).collect();
        context.find(
            Finding::error(
                "unknown-builder",
                entry.key.span,
                format!("there is no builder `{key}`"),
            )
            .fix(match nearest(key, keys.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("the builders are {}", keys.join(", ")),
            }),
        );
        return None;
    };
    let fields = Fields::new(context, kind.key, entry.key.span, &entry.value, kind.fields)?;
    Some((kind, fields))
}

#[cfg(test)]
mod tests {
    use super::BUILDERS;

    #[test]
    fn every_builder_is_named_once_and_documented() {
        for (index, kind) in BUILDERS.iter().enumerate() {
            assert!(BUILDERS[..index].iter().all(|other| other.key != kind.key));
            assert!(!kind.summary.is_empty(), "{}", kind.key);
            for field in kind.fields {
                assert!(!field.help.is_empty(), "{}.{}", kind.key, field.key);
            }
        }
    }
}
