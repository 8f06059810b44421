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
mod butt;
mod half_lap;
mod keys;
mod meeting;
mod mitre;
mod nodes;
mod screws;
mod sunk;

pub(crate) use attach::{apply, label, pair_up};
pub use meeting::Meeting;

use crate::build::{Keys, map, text};
use crate::diag::{Finding, nearest};
use crate::load::{Entry, Node, Value};
use crate::plan::Part;
use crate::resolve::{Context, Field, Fields, Header, KeySet};
use crate::source::{Span, Spanned};
use crate::whole::Triple;
use attach::Made;
use keys::{Described, Glue, Held, Members, Work};
use meeting::Member;

/// A kind of joint: what the plan calls it and how it works.
#[derive(Debug)]
pub struct JointKind {
    /// Its key in a plan.
    pub key: &'static str,
    /// One line on what it is.
    pub summary: &'static str,
    /// Its keys.
    pub fields: &'static [Field],
    /// Whether the part goes into a cut of the other one.
    pub captures: bool,
    /// Reads its keys. Everything wrong has been told where this gives `None`.
    read: fn(&Fields) -> Option<Box<dyn Kind>>,
}

/// A joint of some kind, read.
trait Kind {
    /// What every kind says.
    fn common(&self) -> Common<'_>;

    /// Makes the work of one meeting. Everything wrong has been told where this gives `None`.
    fn make(&self, making: &mut Making) -> Option<()>;
}

/// What every kind of joint says.
struct Common<'a> {
    with: With,
    held: &'a Held,
    /// Where parts without places meet, for the kinds that can say so.
    described: Option<&'a Described>,
    /// How deep the cut is, if there is one and the plan says so.
    depth: Option<f64>,
}

/// Every kind of joint, in the order in which the manual shows them.
pub static JOINTS: &[&JointKind] = &[
    &butt::KIND,
    &sunk::REBATE,
    &sunk::HOUSING,
    &sunk::GROOVE,
    &half_lap::KIND,
    &mitre::KIND,
];

crate::words! {
    /// What holds the parts of a joint together.
    pub enum With {
        /// Screws through one part into the other.
        Screws = "screws",
        /// Screws in angled pockets.
        PocketScrews = "pocket screws",
        /// Dowels.
        Dowels = "dowels",
        /// Glue alone.
        Glue = "glue",
        /// Nothing.
        Nothing = "nothing",
    }
}

crate::key_words!(With);

/// What holds two parts together.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Joint {
    /// Key of its kind (`butt`).
    pub kind: &'static str,
    /// The part that comes to the other one.
    pub part: String,
    /// The part that takes it.
    pub to: String,
    /// What holds it.
    pub with: With,
    /// Whether the part goes into a cut of the other one.
    pub captures: bool,
    /// Where the two meet: one for each pair of pieces. Empty where they have no places.
    pub meetings: Vec<Meeting>,
    /// How many times the joint is made.
    pub count: u32,
    /// Length of all its glue lines in millimetres; `None` where it is not glued.
    pub glue: Option<f64>,
    /// Screws, as far as places say where they go.
    pub screws: Vec<DrivenScrew>,
    /// Where the plan asks for it.
    pub span: Span,
}

/// A screw in its place in the whole.
#[derive(Debug, Clone, PartialEq)]
pub struct DrivenScrew {
    /// The part that it goes through.
    pub through: String,
    /// The part that it ends in.
    pub into: String,
    /// Where its head is.
    pub head: Triple,
    /// Where its tip is.
    pub tip: Triple,
}

/// What the work of one meeting is made from, and where it goes.
struct Making<'a> {
    context: Context<'a>,
    part: Member<'a>,
    to: Member<'a>,
    meeting: Meeting,
    span: Span,
    made: Vec<Made>,
    screws: Vec<DrivenScrew>,
    glue: f64,
    /// Whether the meeting is known from places and not from an edge and a face.
    placed: bool,
}

impl Making<'_> {
    /// Tells of a fault.
    fn find(&self, finding: Finding) {
        self.context.find(finding);
    }

    /// Adds a feature to a member.
    fn add(&mut self, member: Member, key: &'static str, mut keys: Keys, label: &str) {
        keys.push(("label", text(label)));
        keys.extend(member.only().map(|only| ("only", text(only))));
        let value = map(self.span, [(key, map(self.span, keys))]);
        self.made.push(Made {
            carrier: member.carrier().to_owned(),
            node: Node {
                span: self.span,
                value,
            },
        });
    }
}

/// Works out every joint. Gives the features that they add and what is known of them.
pub(crate) fn run(
    context: Context,
    joints: &[Node],
    headers: &[&Header],
) -> (Vec<Made>, Vec<Joint>) {
    let mut all_made = Vec::new();
    let mut all = Vec::new();
    for node in joints {
        if let Some((made, joint)) = work_out(context, node, headers) {
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

fn work_out(context: Context, node: &Node, headers: &[&Header]) -> Option<(Vec<Made>, Joint)> {
    let (kind, entry) = kind_of(context, node)?;
    let span = entry.key.span;
    let fields = Fields::new(context, kind.key, span, &entry.value, kind.fields)?;
    let members = Members::read(&fields)
        .map(|keys| [&keys.part, &keys.to].map(|name| member(context, name, headers)));
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
                "joint-to-itself",
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
        captures: kind.captures,
        part,
        to,
    };
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
        captures: kind.captures,
        meetings: Vec::new(),
        count,
        glue: None,
        screws: Vec::new(),
        span,
    };
    let mut all = Vec::new();
    let mut glue = 0.0;
    for meeting in &found {
        let mut making = Making {
            context,
            part,
            to,
            meeting: *meeting,
            span,
            made: Vec::new(),
            screws: Vec::new(),
            glue: 0.0,
            placed,
        };
        keys.make(&mut making)?;
        glue += making.glue;
        all.extend(making.made);
        joint.screws.extend(making.screws);
    }
    if glued && !found.is_empty() {
        joint.glue = Some(glue / found.len() as f64 * f64::from(count));
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
            Finding::error("bad-joint", node.span, "an entry of `joints` has one joint")
                .fix("write `- butt: {part: shelf, to: side-left, with: screws}`"),
        );
        return None;
    };
    let key = entry.key.value.as_str();
    let Some(kind) = JOINTS.iter().find(|kind| kind.key == key) else {
        let keys: Vec<&str> = JOINTS.iter().map(|kind| kind.key).collect();
        context.find(
            Finding::error(
                "unknown-joint",
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
    headers: &'a [&Header],
) -> Option<Member<'a>> {
    let all = || headers.iter().flat_map(|header| header.parts());
    let found: Option<&Part> = all().find(|part| part.id == name.value);
    if found.is_none() {
        let ids = all().map(|part| part.id.as_str());
        context.find(
            Finding::error(
                "unknown-part",
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
            for key in ["part", "to", "with", "glue", "work"] {
                assert!(
                    kind.fields.iter().any(|f| f.key == key),
                    "{}.{key}",
                    kind.key
                );
            }
        }
    }
}
