//! A plan and what it includes as one document: the text that a plan stands for, whatever files it was written in.

use std::fmt::Write as _;

use jigless_model::diag::Finding;
use serde::ser::{Serialize, SerializeMap, SerializeSeq, Serializer};
use sha2::{Digest, Sha256};

use super::key_set::KeySet;
use super::keys::PlanKeys;
use super::names::PlanNames;
use crate::codes;
use crate::load::{Entry, Node, Scalar, Tree, Value};
use crate::renamed;

/// The entries of each section, of the plan first and then of what it includes, in order.
#[derive(Debug, Clone)]
pub(crate) struct Document {
    /// What stands at the top and only there: `jigless`, `title`, `units`, `tools`, `checks`, `steps` and the like. What
    /// is read section by section is not among it.
    pub(crate) head: Vec<Entry>,
    /// Named values.
    pub(crate) values: Vec<Entry>,
    /// Sheet goods and boards.
    pub(crate) stock: Vec<Entry>,
    /// What builders are asked for.
    pub(crate) builds: Vec<Entry>,
    /// The parts.
    pub(crate) parts: Vec<Entry>,
    /// What holds them together.
    pub(crate) joints: Vec<Node>,
    /// The order in which parts are put together, as far as the author gives it.
    pub(crate) order: Vec<Node>,
    /// What the parts do together.
    pub(crate) usage: Vec<Node>,
}

/// The keys of a plan that included files have, too.
const SECTIONS: [&str; 8] = [
    "include", "values", "stock", "builds", "parts", "joints", "order", "usage",
];

impl Document {
    /// Joins the files of a plan.
    pub(crate) fn new(names: &PlanNames, tree: &Tree) -> Self {
        let section = |key: &str| section(names, tree, key);
        let head = match &tree.main.value {
            Value::Map(entries) => entries
                .iter()
                .filter(|entry| !SECTIONS.contains(&entry.key.value.as_str()))
                .cloned()
                .collect(),
            _ => Vec::new(),
        };
        Self {
            head,
            values: section("values"),
            stock: section("stock"),
            builds: section("builds"),
            parts: section("parts"),
            joints: list_section(names, tree, "joints", LIST_FIX),
            order: list_section(names, tree, "order", LIST_FIX),
            usage: list_section(names, tree, "usage", USAGE_FIX),
        }
    }

    /// The document as YAML, in the order of the plan language. Two plans with the same meaning to the last value have
    /// the same text, whatever comments, spacing and includes they were written with.
    pub(crate) fn to_text(&self) -> String {
        let mut entries = Vec::new();
        for field in PlanKeys::FIELDS {
            entries.extend(
                self.head
                    .iter()
                    .filter(|e| e.key.value == field.key)
                    .cloned(),
            );
            let section = match field.key {
                "values" => &self.values,
                "stock" => &self.stock,
                "builds" => &self.builds,
                "parts" => &self.parts,
                "joints" => {
                    entries.extend(list_entry(field.key, &self.joints));
                    continue;
                }
                "order" => {
                    entries.extend(list_entry(field.key, &self.order));
                    continue;
                }
                "usage" => {
                    entries.extend(list_entry(field.key, &self.usage));
                    continue;
                }
                _ => continue,
            };
            if let Some(first) = section.first() {
                entries.push(Entry {
                    key: jigless_model::source::Spanned::new(field.key.to_owned(), first.key.span),
                    value: Node {
                        span: first.key.span,
                        value: Value::Map(section.clone()),
                    },
                });
            }
        }
        // A tree of texts, lists and maps can always be written.
        serde_yaml::to_string(&Map(&entries)).unwrap_or_default()
    }
}

/// SHA-256 in hexadecimal.
pub(crate) fn digest(bytes: &[u8]) -> String {
    let hash = Sha256::digest(bytes);
    hash.iter()
        .fold(String::with_capacity(64), |mut text, byte| {
            // Writing to a String cannot fail.
            let _ = write!(text, "{byte:02x}");
            text
        })
}

fn list_entry(key: &str, items: &[Node]) -> Option<Entry> {
    let span = items.first()?.span;
    Some(Entry {
        key: jigless_model::source::Spanned::new(key.to_owned(), span),
        value: Node {
            span,
            value: Value::List(items.to_vec()),
        },
    })
}

const LIST_FIX: &str = "begin each entry with `- `";
const USAGE_FIX: &str = "begin each entry with `-`: `- door: {part: door, side: side-left}`";

fn list_section(names: &PlanNames, tree: &Tree, key: &str, fix: &str) -> Vec<Node> {
    let mut all = Vec::new();
    for file in std::iter::once(&tree.main).chain(&tree.included) {
        match renamed::get(file, key).map(|node| (&node.value, node)) {
            Some((Value::List(items), _)) => all.extend(items.iter().cloned()),
            None | Some((Value::Null, _)) => {}
            Some((_, other)) => names.context().find(
                Finding::error(
                    codes::WRONG_KIND,
                    other.span,
                    format!("`{key}` is {}; it must be a list", other.kind()),
                )
                .fix(fix),
            ),
        }
    }
    all
}

fn section(names: &PlanNames, tree: &Tree, key: &str) -> Vec<Entry> {
    let mut all = Vec::new();
    for file in std::iter::once(&tree.main).chain(&tree.included) {
        match renamed::get(file, key) {
            Some(Node {
                value: Value::Map(entries),
                ..
            }) => all.extend(entries.iter().cloned()),
            None
            | Some(Node {
                value: Value::Null, ..
            }) => {}
            Some(other) => names.context().find(
                Finding::error(
                    codes::WRONG_KIND,
                    other.span,
                    format!("`{key}` is {}; it must be a map", other.kind()),
                )
                .fix("write a name, a colon, and what belongs to it, one for each line"),
            ),
        }
    }
    all
}

struct Map<'a>(&'a [Entry]);

impl Serialize for Map<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for entry in self.0 {
            map.serialize_entry(&entry.key.value, &entry.value)?;
        }
        map.end()
    }
}

impl Serialize for Node {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match &self.value {
            Value::Null => serializer.serialize_unit(),
            Value::Scalar(scalar) => scalar.serialize(serializer),
            Value::List(items) => {
                let mut list = serializer.serialize_seq(Some(items.len()))?;
                for item in items {
                    list.serialize_element(item)?;
                }
                list.end()
            }
            Value::Map(entries) => Map(entries).serialize(serializer),
        }
    }
}

impl Serialize for Scalar {
    /// Numbers go out as numbers only where that keeps their text: `1.10` may be a revision.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let text = self.text.as_str();
        if !self.quoted {
            if let Ok(whole) = text.parse::<i64>()
                && whole.to_string() == text
            {
                return serializer.serialize_i64(whole);
            }
            if text == "true" || text == "false" {
                return serializer.serialize_bool(text == "true");
            }
        }
        serializer.serialize_str(text)
    }
}
