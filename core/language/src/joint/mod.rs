//! Joints: one line in a plan that puts the work of both parts where they meet.
//!
//! A joint works on the tree, after the sizes and places of all parts are known and before their features are read: it
//! adds the same feature entries that an author would have written. So every check and exporter sees ordinary features,
//! an author can change each of them by its label, and the plan can be printed with all of them written out.
//!
//! Where both parts have places, the places say where they meet. Where they have none, the joint names the edge and the
//! face and says where on the face.
//!
//! Adding a kind means a module with a [`JointKind`] and a line in [`JOINTS`].

mod attach;
mod bolted;
mod butt;
mod half_lap;
mod joint_context;
mod keys;
mod kind;
mod meeting;
mod member;
mod mitre;
mod nodes;
mod screws;
mod sunk;

pub(crate) use attach::{apply, label, pair_up};
pub use kind::JointKind;

use std::collections::BTreeMap;

use jigless_model::diag::{Finding, nearest};
use jigless_model::joint::{GlueLine, Joint, With};
use jigless_model::plan::Part;
use jigless_model::source::Spanned;

use crate::build::text;
use crate::codes;
use crate::load::{Entry, Node, Value};
use crate::resolve::{Context, Fields, Header, KeySet};
use attach::JointWork;
use joint_context::JointContext;
use keys::{Glue, Members, Work};
use kind::Common;
use member::Member;

/// Every kind of joint, in the order in which the manual shows them.
pub static JOINTS: &[&JointKind] = &[
    &butt::KIND,
    &sunk::REBATE,
    &sunk::HOUSING,
    &sunk::GROOVE,
    &half_lap::KIND,
    &mitre::KIND,
    &bolted::KIND,
];

/// Works out every joint. Gives the features that they add and what is known of them. `complete` says that no part is
/// missing because its builder failed.
pub(crate) fn run(
    context: Context,
    joints: &[Node],
    headers: &[&Header],
    complete: bool,
) -> (Vec<JointWork>, Vec<Joint>) {
    let mut all_made = Vec::new();
    let mut all = Vec::new();
    let parts = headers.iter().flat_map(|header| header.parts());
    let mut by_name: BTreeMap<&str, &Part> = BTreeMap::new();
    for part in parts {
        by_name.entry(&part.id).or_insert(part);
    }
    for node in joints {
        if let Some((made, joint)) = work_out(context, node, &by_name, complete) {
            all_made.extend(made);
            all.push(joint);
        }
    }
    (all_made, all)
}

/// A joint as it stands in a plan whose parts have all its work among their features.
pub(crate) fn written_out(node: &Node) -> Node {
    let mut node = node.clone();
    if let Value::Map(entries) = &mut node.value
        && let Some(entry) = entries.first_mut()
        && let Value::Map(keys) = &mut entry.value.value
    {
        keys.retain(|key| key.key.value != "work");
        let given = text(Work::Given.name());
        keys.push(crate::build::entry(node.span, "work", given));
    }
    node
}

fn work_out(
    context: Context,
    node: &Node,
    parts: &BTreeMap<&str, &Part>,
    complete: bool,
) -> Option<(Vec<JointWork>, Joint)> {
    let (kind, entry) = kind_of(context, node)?;
    let span = entry.key.span;
    let fields = Fields::new(context, kind.key, span, &entry.value, kind.fields)?;
    let members = Members::read(&fields)
        .map(|keys| [&keys.part, &keys.to].map(|name| member(context, name, parts, complete)));
    let keys = (kind.read)(&fields);
    let [Some(part), Some(to)] = members? else {
        return None;
    };
    let keys = keys?;
    let Common { with, held, .. } = keys.common();
    let given = held.work == Work::Given;
    if part.part.id == to.part.id {
        context.find(
            Finding::error(
                codes::JOINT_TO_ITSELF,
                span,
                format!("`{}` cannot be joined to itself", part.part.id),
            )
            .fix("name the other part"),
        );
        return None;
    }
    let place = meeting::Seeking {
        context,
        span,
        housed: kind.housed,
        part,
        to,
    };
    // Each piece of one is held against each of the other; some such looks cost as much as one thing made.
    let looks = part.part.places.len() * to.part.places.len();
    context.charge(1 + looks / 20, span)?;
    let (found, placed) = place.meetings(&keys.common())?;
    let count = if placed {
        found.len() as u32
    } else {
        part.part.count.max(to.part.count)
    };
    let glued = match held.glue {
        Glue::Yes => true,
        Glue::No => false,
        Glue::AsUsual => matches!(with, With::Glue | With::Dowels),
    };
    let mut joint = Joint {
        kind: kind.key,
        part: part.part.id.clone(),
        to: to.part.id.clone(),
        with,
        housed: kind.housed,
        meetings: Vec::new(),
        count,
        glue: None,
        lifts_off: keys.lifts_off(),
        screws: Vec::new(),
        span,
    };
    let mut all = Vec::new();
    let mut glue = GlueLine::default();
    for meeting in &found {
        let mut joint_context = JointContext {
            context,
            part,
            to,
            meeting: *meeting,
            span,
            made: Vec::new(),
            screws: Vec::new(),
            glue: GlueLine::default(),
            placed,
        };
        keys.make(&mut joint_context)?;
        context.charge(1 + joint_context.made.len(), span)?;
        glue = glue.plus(joint_context.glue);
        all.extend(joint_context.made);
        joint.screws.extend(joint_context.screws);
    }
    if glued && !found.is_empty() {
        joint.glue = Some(glue.times(f64::from(count) / found.len() as f64));
    }
    if placed {
        joint.meetings = found;
    }
    if given {
        all.clear();
    }
    Some((all, joint))
}

fn kind_of<'a>(context: Context, node: &'a Node) -> Option<(&'static JointKind, &'a Entry)> {
    let entries = match &node.value {
        Value::Map(entries) => entries.as_slice(),
        _ => &[],
    };
    let [entry] = entries else {
        context.find(
            Finding::error(
                codes::BAD_JOINT,
                node.span,
                "an entry of `joints` has one joint",
            )
            .fix("write `- butt: {part: shelf, to: side-left, with: screws}`"),
        );
        return None;
    };
    let key = entry.key.value.as_str();
    let Some(kind) = JOINTS.iter().find(|kind| kind.key == key) else {
        let keys: Vec<&str> = JOINTS.iter().map(|kind| kind.key).collect();
        context.find(
            Finding::error(
                codes::UNKNOWN_JOINT,
                entry.key.span,
                format!("there is no joint `{key}`"),
            )
            .fix(match nearest(key, keys.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("the joints are {}", keys.join(", ")),
            }),
        );
        return None;
    };
    Some((kind, entry))
}

fn member<'a>(
    context: Context,
    name: &Spanned<String>,
    parts: &BTreeMap<&str, &'a Part>,
    complete: bool,
) -> Option<Member<'a>> {
    let found = parts.get(name.value.as_str()).copied();
    if found.is_none() && complete {
        let ids = parts.keys().copied();
        context.find(
            Finding::error(
                codes::UNKNOWN_PART,
                name.span,
                format!("there is no part `{}`", name.value),
            )
            .fix(match nearest(&name.value, ids) {
                Some(near) => format!("did you mean `{near}`?"),
                None => "describe it under `parts:`".to_owned(),
            }),
        );
    }
    found.map(|part| Member { part })
}

#[cfg(test)]
mod tests {
    use super::JOINTS;

    #[test]
    fn every_joint_is_named_once_and_documented() {
        for (index, kind) in JOINTS.iter().enumerate() {
            assert!(JOINTS[..index].iter().all(|other| other.key != kind.key));
            assert!(!kind.summary.is_empty(), "{}", kind.key);
            for field in kind.fields {
                assert!(!field.help.is_empty(), "{}.{}", kind.key, field.key);
            }
            // Bolts are what the kind is called after.
            let with = (kind.key != "bolted").then_some("with");
            for key in ["part", "to", "glue", "work"].into_iter().chain(with) {
                assert!(
                    kind.fields.iter().any(|f| f.key == key),
                    "{}.{key}",
                    kind.key
                );
            }
        }
    }
}
