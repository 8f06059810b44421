//! Putting the features that joints and builders make where an author would have written them.

use crate::codes;
use std::collections::BTreeMap;

use crate::load::{Entry, Node, Scalar, Value};
use crate::resolve::Context;
use jigless_model::diag::Finding;
use jigless_model::source::Spanned;

/// A feature for a part.
#[derive(Debug, Clone)]
pub(crate) struct JointWork {
    /// The entry of `parts:` that carries it.
    pub(crate) part_id: String,
    /// The feature.
    pub(crate) node: Node,
}

/// Adds features to parts. What the author writes under the same label stays, and `leave_out` takes away.
pub(crate) fn apply(context: Context, parts: &mut [Entry], made: &[JointWork]) {
    let mut by_part: BTreeMap<&str, Vec<Node>> = BTreeMap::new();
    for made in made {
        let nodes = by_part.entry(made.part_id.as_str()).or_default();
        nodes.push(made.node.clone());
    }
    for part in parts.iter_mut() {
        let of_part = by_part.remove(part.key.value.as_str()).unwrap_or_default();
        // Each feature is held against each other one; some such looks cost as much as one thing made.
        let looks = of_part.len() * of_part.len();
        if context.charge(looks / 100, part.key.span).is_none() {
            return;
        }
        let of_part = paired(without_repeats(of_part));
        attach(context, part, of_part);
    }
}

fn attach(context: Context, part: &mut Entry, made: Vec<Node>) {
    let Value::Map(keys) = &mut part.value.value else {
        return;
    };
    if !keys.iter().any(|entry| entry.key.value == "features") {
        if made.is_empty() {
            return;
        }
        let span = part.key.span;
        keys.push(Entry {
            key: Spanned::new("features".to_owned(), span),
            value: Node {
                span,
                value: Value::List(Vec::new()),
            },
        });
    }
    let Some(features) = keys.iter_mut().find(|entry| entry.key.value == "features") else {
        return;
    };
    if matches!(features.value.value, Value::Null) {
        features.value.value = Value::List(Vec::new());
    }
    let Value::List(features) = &mut features.value.value else {
        return;
    };
    let (left_out, kept): (Vec<Node>, Vec<Node>) = std::mem::take(features)
        .into_iter()
        .partition(|item| item.get("leave_out").is_some());
    *features = kept;
    // What another joint makes under the same label does not take its place.
    let written = features.len();
    let mut used = vec![false; left_out.len()];
    for node in made {
        let own = label(&node);
        let wanted = |item: &Node| {
            let name = item.get("leave_out").and_then(Node::scalar);
            name.is_some() && name.map(|scalar| scalar.text.as_str()) == own
        };
        let mut out = false;
        for (index, item) in left_out.iter().enumerate() {
            if wanted(item) {
                used[index] = true;
                out = true;
            }
        }
        let replaced = own.is_some()
            && features[..written]
                .iter()
                .any(|other| label(other) == own && !same_joint(other, &node));
        if !out && !replaced {
            features.push(node);
        }
    }
    for (item, used) in left_out.iter().zip(used) {
        if !used {
            let wanted = item.get("leave_out").and_then(Node::scalar);
            let labels: Vec<&str> = features.iter().filter_map(label).collect();
            report_unknown_label(
                context,
                item,
                wanted.map_or("", |s| s.text.as_str()),
                &labels,
            );
        }
    }
}

/// Whether two features come from one line of the plan: a joint may make several under one label.
fn same_joint(one: &Node, other: &Node) -> bool {
    one.span == other.span
}

pub(crate) fn report_unknown_label(context: Context, item: &Node, wanted: &str, labels: &[&str]) {
    let fix = match jigless_model::diag::nearest(wanted, labels.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if labels.is_empty() => "this part has no features with a label".to_owned(),
        None => format!("its labels are {}", labels.join(", ")),
    };
    context.find(
        Finding::error(
            codes::UNKNOWN_LABEL,
            item.span,
            format!("nothing that is made on this part is called `{wanted}`"),
        )
        .fix(fix),
    );
}

/// Joins the features of handed pairs that both parts have; for parts that builders made.
pub(crate) fn pair_up(parts: &mut [Entry]) {
    for part in parts {
        if part.value.get("mirror_as").is_none() {
            continue;
        }
        let Value::Map(keys) = &mut part.value.value else {
            continue;
        };
        for entry in keys
            .iter_mut()
            .filter(|entry| entry.key.value == "features")
        {
            if let Value::List(features) = &mut entry.value.value {
                *features = paired(std::mem::take(features));
            }
        }
    }
}

/// The label of a feature, if it has one.
pub(crate) fn label(node: &Node) -> Option<&str> {
    let Value::Map(entries) = &node.value else {
        return None;
    };
    let label = entries.first()?.value.get("label")?;
    label.scalar().map(|scalar| scalar.text.as_str())
}

/// Each feature once: the screws of two fronts that one part is made twice for are the same holes in it, whatever they are
/// called after.
fn without_repeats(nodes: Vec<Node>) -> Vec<Node> {
    let mut kept: Vec<(Node, Node)> = Vec::new();
    for node in nodes {
        let bare = without(&node, "label").0;
        if !kept.iter().any(|(_, other)| same(other, &bare)) {
            kept.push((node, bare));
        }
    }
    kept.into_iter().map(|(node, _)| node).collect()
}

/// One feature for both of a handed pair, where each of them has the same.
fn paired(nodes: Vec<Node>) -> Vec<Node> {
    let mut kept: Vec<Node> = Vec::new();
    for node in nodes {
        let (bare, only) = without_only(&node);
        let twin = kept.iter_mut().find(|other| {
            let (other, others_only) = without_only(other);
            only.is_some() && others_only.is_some() && only != others_only && same(&bare, &other)
        });
        match twin {
            Some(twin) => *twin = bare,
            None => kept.push(node),
        }
    }
    kept
}

fn without_only(node: &Node) -> (Node, Option<String>) {
    without(node, "only")
}

/// A feature without one of its keys, and what that says.
fn without(node: &Node, left_out: &str) -> (Node, Option<String>) {
    let mut bare = node.clone();
    let mut only = None;
    if let Value::Map(entries) = &mut bare.value
        && let Some(Entry {
            value: Node {
                value: Value::Map(keys),
                ..
            },
            ..
        }) = entries.first_mut()
    {
        keys.retain(|key| {
            let is_only = key.key.value == left_out;
            if is_only {
                only = key.value.scalar().map(|scalar| scalar.text.clone());
            }
            !is_only
        });
    }
    (bare, only)
}

/// Whether two nodes say the same, wherever they stand.
fn same(one: &Node, other: &Node) -> bool {
    match (&one.value, &other.value) {
        (Value::List(a), Value::List(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
        }
        (Value::Map(a), Value::Map(b)) => {
            a.len() == b.len()
                && a.iter()
                    .zip(b)
                    .all(|(a, b)| a.key.value == b.key.value && same(&a.value, &b.value))
        }
        (Value::Scalar(a), Value::Scalar(b)) => a.text == b.text || nearly(a, b),
        (Value::Null, Value::Null) => true,
        _ => false,
    }
}

/// Whether two lengths differ only as the arithmetic of two sides does in its last digits.
fn nearly(one: &Scalar, other: &Scalar) -> bool {
    let mm = |scalar: &Scalar| scalar.meant.as_ref().and_then(|meant| meant.as_length());
    matches!((mm(one), mm(other)), (Some(a), Some(b)) if (a - b).abs() < 1e-6)
}
