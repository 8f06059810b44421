//! Where in the furniture a place of a plan is: the part, the feature of it, and the key.

use jigless_core::load::{Entry, Node, Value, parse};
use jigless_core::source::{FileId, Sources, Span};

/// The sections whose entries are named by the author: a name says it all, and the section is left out.
const NAMED: [&str; 2] = ["parts", "builds"];
/// The lists whose entries are each a map of one key, which names their kind.
const KINDS: [&str; 3] = ["features", "joints", "usage"];
/// The sections with lists of joints and of what the whole is.
const LISTED: [&str; 2] = ["joints", "usage"];

/// The trees of the files of a plan, read when first asked for.
#[derive(Debug)]
pub struct Furniture<'a> {
    sources: &'a Sources,
    trees: Vec<(FileId, Option<Node>)>,
}

impl<'a> Furniture<'a> {
    /// Of the texts that a plan was read from.
    pub fn of(sources: &'a Sources) -> Self {
        Self {
            sources,
            trees: Vec::new(),
        }
    }

    /// The way to a place: `["door", "hinge cups", "at"]`. A feature that its part has several of comes with its number.
    /// Empty where the text is not YAML, or the place is in no entry.
    pub fn path(&mut self, span: Span) -> Vec<String> {
        let known = self.trees.iter().position(|(file, _)| *file == span.file);
        let at = known.unwrap_or_else(|| {
            let file = self.sources.file(span.file);
            let mut own = Sources::default();
            let tree = parse(&mut own, &file.name, file.text.as_bytes()).ok();
            self.trees.push((span.file, tree));
            self.trees.len() - 1
        });
        let mut path = Vec::new();
        if let Some(tree) = &self.trees[at].1 {
            follow(tree, "", span, &mut path);
        }
        in_words(&path)
    }
}

/// One step into a tree.
#[derive(Debug)]
enum Step<'a> {
    /// Into the value of a key.
    Key(&'a str),
    /// To one of several entries of a list with the same key, counted from 1.
    Numbered(&'a str, usize),
    /// To an entry of a list that is no map of one key.
    Item(usize),
}

fn follow<'a>(node: &'a Node, list_of: &str, span: Span, path: &mut Vec<Step<'a>>) {
    match &node.value {
        Value::Map(entries) => {
            let entry = entries.iter().find(|entry| covers(entry, span));
            if let Some(entry) = entry {
                path.push(Step::Key(&entry.key.value));
                follow(&entry.value, &entry.key.value, span, path);
            }
        }
        Value::List(items) => {
            let Some(index) = items.iter().position(|item| holds(item.span, span)) else {
                return;
            };
            let entry = only_entry(&items[index]).filter(|_| KINDS.contains(&list_of));
            let Some(entry) = entry else {
                // A number among numbers needs no number of its own.
                if items[index].scalar().is_none() {
                    path.push(Step::Item(index + 1));
                }
                follow(&items[index], "", span, path);
                return;
            };
            let key = entry.key.value.as_str();
            let alike = |item: &&Node| only_entry(item).is_some_and(|e| e.key.value == key);
            let number = items[..=index].iter().filter(alike).count();
            if items.iter().filter(alike).count() > 1 {
                path.push(Step::Numbered(key, number));
            } else {
                path.push(Step::Key(key));
            }
            follow(&entry.value, key, span, path);
        }
        Value::Null | Value::Scalar(_) => {}
    }
}

/// A feature, a joint or an entry of `usage`: a map whose first key names its kind.
fn only_entry(item: &Node) -> Option<&Entry> {
    match &item.value {
        Value::Map(entries) => match entries.as_slice() {
            [entry] => Some(entry),
            _ => None,
        },
        _ => None,
    }
}

fn covers(entry: &Entry, span: Span) -> bool {
    let whole = entry.key.span.to(entry.value.span);
    holds(whole, span)
}

fn holds(whole: Span, span: Span) -> bool {
    whole.start <= span.start && span.start <= whole.end
}

fn in_words(steps: &[Step]) -> Vec<String> {
    let section = match steps.first() {
        Some(Step::Key(section)) => *section,
        _ => return Vec::new(),
    };
    let named = NAMED.contains(&section);
    let in_furniture = named || LISTED.contains(&section);
    let word = |(depth, step): (usize, &Step)| {
        let plain = |key: &str| {
            // Names are the author's, and keys of other sections are looked up as they are written.
            if in_furniture && !(named && depth == 1) {
                key.replace('_', " ")
            } else {
                key.to_owned()
            }
        };
        match step {
            Step::Key("features") if named && depth == 2 => None,
            Step::Key(_) if named && depth == 0 && steps.len() > 1 => None,
            Step::Key(key) => Some(plain(key)),
            Step::Numbered(key, number) => Some(format!("{} {number}", plain(key))),
            Step::Item(number) => Some(number.to_string()),
        }
    };
    steps.iter().enumerate().filter_map(word).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLAN: &str = "\
jigless: 1
title: Jars
values:
  gap_of_doors: 2
stock:
  ply_18: {thickness: 18}
builds:
  cabinet:
    carcass: {stock: ply_18, shelves: [{up: 2}, {up: 3}]}
parts:
  left_door:
    width: 300
    features:
      - hole: {at: [1, 2]}
      - hinge_cups: {edge: left, at: {inset: 9}}
      - hole: {at: [3, 4], label: knob}
joints:
  - half_lap: {part: a, to: b}
usage:
  - shelf: {part: c}
";

    fn path_to(word: &str) -> String {
        let mut sources = Sources::default();
        let file = sources.add("plan.yaml", PLAN);
        let start = PLAN.find(word).unwrap() as u32;
        let span = Span {
            file,
            start,
            end: start + word.len() as u32,
        };
        Furniture::of(&sources).path(span).join(" > ")
    }

    #[test]
    fn a_place_is_named_by_part_feature_and_key() {
        for (word, path) in [
            ("Jars", "title"),
            ("2\n", "values > gap_of_doors"),
            ("18}", "stock > ply_18 > thickness"),
            ("ply_18, ", "cabinet > carcass > stock"),
            ("{up: 3", "cabinet > carcass > shelves > 2"),
            ("3}]", "cabinet > carcass > shelves > 2 > up"),
            ("left_door", "left_door"),
            ("300", "left_door > width"),
            ("1, 2]", "left_door > hole 1 > at"),
            ("hinge_cups", "left_door > hinge cups"),
            ("inset", "left_door > hinge cups > at > inset"),
            ("knob", "left_door > hole 2 > label"),
            ("to: b", "joints > half lap > to"),
            ("part: c", "usage > shelf > part"),
        ] {
            assert_eq!(path_to(word), path, "{word}");
        }
    }

    #[test]
    fn a_text_that_is_no_yaml_has_no_furniture() {
        let mut sources = Sources::default();
        let file = sources.add("plan.yaml", "a: [\n");
        let span = Span {
            file,
            start: 3,
            end: 4,
        };
        assert!(Furniture::of(&sources).path(span).is_empty());
    }
}
