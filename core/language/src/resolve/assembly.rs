//! Reading the `assembly:` section, and holding every name of a part against the parts that there are.

use std::collections::BTreeSet;

use jigless_model::assembly::Assembled;
use jigless_model::diag::{Finding, nearest};
use jigless_model::fact::Fact;
use jigless_model::plan::Part;
use jigless_model::source::Spanned;

use super::allow::{COMMON_FIELDS, read_allowances};
use super::context::Context;
use super::fields::Fields;
use crate::assembly::{ASSEMBLY, unknown_part};
use crate::codes;
use crate::load::{Node, Value};

/// The entries of the plan and of what it includes, in order.
pub(super) fn read_assembly(context: Context, items: &[Node]) -> Vec<Assembled> {
    items
        .iter()
        .filter_map(|item| read_entry(context, item))
        .collect()
}

fn read_entry(context: Context, item: &Node) -> Option<Assembled> {
    let keys: Vec<&str> = ASSEMBLY.iter().map(|kind| kind.key).collect();
    let Value::Map(entries) = &item.value else {
        context.find(
            Finding::error(
                codes::WRONG_KIND,
                item.span,
                format!("this is {}", item.kind()),
            )
            .fix(format!("write an entry with one of {}", keys.join(", "))),
        );
        return None;
    };
    let [entry] = entries.as_slice() else {
        context.find(
            Finding::error(
                codes::TOO_MANY_KEYS,
                item.span,
                "an entry of `assembly` has one key",
            )
            .fix("start a new entry with `-`, or indent its keys further"),
        );
        return None;
    };
    let Some(kind) = ASSEMBLY.iter().find(|kind| kind.key == entry.key.value) else {
        context.find(
            Finding::error(
                codes::UNKNOWN_KEY,
                entry.key.span,
                format!(
                    "`{}` is not a key of assembly",
                    super::context::shortened(&entry.key.value)
                ),
            )
            .fix(match nearest(&entry.key.value, keys.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("its keys are {}", keys.join(", ")),
            }),
        );
        return None;
    };
    let fields = Fields::with_common(
        context,
        kind.key,
        entry.key.span,
        &entry.value,
        kind.fields,
        COMMON_FIELDS,
    )?;
    let allowed = read_allowances(&fields);
    Some(Assembled {
        key: kind.key,
        what: (kind.read)(&fields)?,
        allowed,
        span: entry.key.span,
    })
}

/// Tells of every name of a part that no part has.
pub(super) fn check_references(context: Context, parts: &[Part], assembly: &[Assembled]) {
    let ids: BTreeSet<&str> = parts.iter().map(|part| part.id.as_str()).collect();
    let tell = |name: &Spanned<String>| {
        if !ids.contains(name.value.as_str()) {
            context.find(unknown_part(
                name,
                parts.iter().map(|part| part.id.as_str()),
            ));
        }
    };
    for part in parts.iter().filter(|part| !part.is_mirrored()) {
        for placed in &part.features {
            for fact in &placed.work.facts {
                match fact {
                    Fact::Takes(taken) => tell(&taken.part),
                    Fact::Screw(screw) => {
                        if let Some(into) = &screw.into {
                            tell(into);
                        }
                    }
                    Fact::PocketScrewsInto { part, .. } => tell(part),
                    Fact::HingeCups { .. }
                    | Fact::HingePlates { .. }
                    | Fact::HardwareScrew { .. }
                    | Fact::Insert { .. } => {}
                }
            }
        }
    }
    for entry in assembly {
        for name in entry.what.parts() {
            tell(name);
        }
    }
}
