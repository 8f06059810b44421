//! What a plan says of a part that a builder makes.
//!
//! Every key that the plan gives takes the place of the builder's, but for `features`: an entry of the plan whose
//! `label` is that of a feature of the builder takes that one's place, and `leave_out: LABEL` takes it away; any other
//! is added after them.

use crate::joint::label;
use crate::load::{Entry, Node, Value};

/// Joins the parts that builders make with those that the plan lists. Built parts come first, in their order.
pub(crate) fn merge(built: Vec<Entry>, listed: &[Entry]) -> Vec<Entry> {
    let made_here = built.len();
    let mut parts = built;
    for entry in listed {
        // Only a built part can be changed; one that is listed twice is reported as a fault later.
        let made = parts[..made_here]
            .iter_mut()
            .find(|part| part.key.value == entry.key.value);
        match made {
            Some(part) => change(part, entry),
            None => parts.push(entry.clone()),
        }
    }
    parts
}

fn change(part: &mut Entry, by: &Entry) {
    let (Value::Map(own), Value::Map(changes)) = (&mut part.value.value, &by.value.value) else {
        return;
    };
    part.key.span = by.key.span;
    for change in changes {
        let Some(existing) = own.iter_mut().find(|e| e.key.value == change.key.value) else {
            own.push(change.clone());
            continue;
        };
        match (&mut existing.value.value, &change.value.value) {
            (Value::List(features), Value::List(changed)) if change.key.value == "features" => {
                // Two features of the plan with one label are two, so only the builder's are looked at.
                let mut built = features.len();
                for item in changed {
                    change_features(features, &mut built, item);
                }
            }
            _ => *existing = change.clone(),
        }
    }
}

fn change_features(features: &mut Vec<Node>, built: &mut usize, item: &Node) {
    if let Some(left_out) = item.get("leave_out") {
        let wanted = left_out.scalar().map(|scalar| scalar.text.as_str());
        let before = features.len();
        features.retain(|feature| label(feature).is_none() || label(feature) != wanted);
        *built -= (before - features.len()).min(*built);
        if features.len() == before {
            // It may be the feature of a joint, which comes later.
            features.push(item.clone());
        }
        return;
    }
    let own = label(item);
    let same = features[..*built]
        .iter_mut()
        .find(|feature| own.is_some() && label(feature) == own);
    match same {
        Some(feature) => *feature = item.clone(),
        None => features.push(item.clone()),
    }
}
