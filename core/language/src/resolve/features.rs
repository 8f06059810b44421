//! Reading the `features:` of a part.

use std::sync::Arc;

use jigless_model::diag::{Finding, nearest};
use jigless_model::frame::Frame;
use jigless_model::plan::PlacedFeature;
use jigless_model::source::Spanned;

use super::accept::{COMMON_FIELDS, read_acceptances};
use super::context::Context;
use super::field::Shape;
use super::fields::Fields;
use super::key_set::{KeyType, key_types};
use crate::codes;
use crate::feature;
use crate::load::{Node, Value};
use crate::lower::Lowering;

crate::fields! {
    /// The keys that every feature may have beside its own.
    pub struct PairKeys {
        /// of a handed pair, the part that has this feature alone; it is written as for the first of the two
        _only as "only": Option<String>,
    }
}

key_types! {
    /// A list of features, which is read once the size of the part is known.
    Features: Shape::Features => (), |fields, _| Some(Spanned::new((), fields.span));
}

/// Reads `features:` of a part. `of_pair` names the part and its mirror image.
pub(super) fn read_features(
    context: Context,
    fields: &Fields,
    frame: &Frame,
    registry: &feature::Registry,
    of_pair: [Option<&str>; 2],
) -> Vec<PlacedFeature> {
    let Some(node) = fields.node("features") else {
        return Vec::new();
    };
    let items = match &node.value {
        Value::List(items) => items.as_slice(),
        Value::Null => &[],
        _ => {
            context.find(
                Finding::error(
                    codes::WRONG_KIND,
                    node.span,
                    format!("`features` is {}; it must be a list", node.kind()),
                )
                .fix("write `- hole: {at: [37, 80], diameter: 5, depth: 12}`, one entry for each"),
            );
            return Vec::new();
        }
    };
    items
        .iter()
        .filter_map(|item| read_feature(context, item, frame, registry, of_pair))
        .collect()
}

fn read_feature(
    context: Context,
    item: &Node,
    frame: &Frame,
    registry: &feature::Registry,
    of_pair: [Option<&str>; 2],
) -> Option<PlacedFeature> {
    let entry = match &item.value {
        Value::Map(entries) if entries.len() == 1 => &entries[0],
        Value::Map(entries) if entries.len() > 1 => {
            context.find(
                Finding::error(
                    codes::BAD_FEATURE,
                    entries[1].key.span,
                    format!(
                        "`{}` stands beside `{}`; an entry has one feature",
                        entries[1].key.value, entries[0].key.value
                    ),
                )
                .fix("start a new entry with `-`, or indent the keys of the feature further"),
            );
            return None;
        }
        _ => {
            context.find(
                Finding::error(
                    codes::BAD_FEATURE,
                    item.span,
                    format!("this is {}; a feature belongs here", item.kind()),
                )
                .fix("write `- hole: {...}`"),
            );
            return None;
        }
    };
    let key = entry.key.value.as_str();
    let Some(kind) = registry.kind(key) else {
        let keys = registry.keys();
        context.find(
            Finding::error(
                codes::UNKNOWN_FEATURE,
                entry.key.span,
                format!("there is no feature `{key}`"),
            )
            .fix(match nearest(key, keys.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("the features are {}", keys.join(", ")),
            }),
        );
        return None;
    };
    let (own, only) = read_only(context, &entry.value, of_pair)?;
    let fields = Fields::with_common(
        context,
        kind.key,
        entry.key.span,
        &own,
        kind.fields,
        COMMON_FIELDS,
    )?;
    let accepted = read_acceptances(&fields);
    // A feature need not take a label; asking for one that is not declared would be a mistake of ours.
    let takes_label = kind.fields.iter().any(|field| field.key == "label");
    let label = if takes_label && fields.has("label") {
        fields.text("label").map(|label| label.value)
    } else {
        None
    };
    // One that will be refused need not be worked out, thousands of times.
    if context.budget.is_broken() {
        return None;
    }
    let mut lowering = Lowering::new(*frame, context.unit(), context.budget.room());
    (kind.make)(&fields, &mut lowering)?;
    let work = lowering.into_work();
    // Both of a handed pair have it.
    let parts = of_pair.iter().flatten().count();
    context.charge(parts * (1 + work.work.len()), entry.key.span)?;
    Some(PlacedFeature {
        key: kind.key,
        label,
        only,
        work: Arc::new(work),
        accepted,
        span: entry.key.span,
    })
}

/// Takes `only` out of a feature's own keys.
fn read_only(
    context: Context,
    node: &Node,
    of_pair: [Option<&str>; 2],
) -> Option<(Node, Option<String>)> {
    let Some(only) = node.get("only") else {
        return Some((node.clone(), None));
    };
    let mut own = node.clone();
    if let Value::Map(entries) = &mut own.value {
        entries.retain(|entry| entry.key.value != "only");
    }
    let name = only.scalar().map(|scalar| scalar.text.as_str());
    if name.is_some() && of_pair.contains(&name) && of_pair[1].is_some() {
        return Some((own, name.map(str::to_owned)));
    }
    let fix = match of_pair {
        [Some(one), Some(other)] => format!("write {one} or {other}"),
        _ => "leave it out: this part is not one of a handed pair".to_owned(),
    };
    context.find(
        Finding::error(
            codes::UNKNOWN_WORD,
            only.span,
            "`only` names neither of a handed pair",
        )
        .fix(fix),
    );
    None
}
