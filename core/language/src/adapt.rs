//! A plan with other values, in its own text: what `PATH=VALUE` names gets another value, and everything else, comments
//! too, stays as the author wrote it.

use std::collections::BTreeMap;

use jigless_model::diag::{Findings, nearest};
use jigless_model::source::{Sources, Span};

use crate::load::{Entry, IncludeReader, Node, Tree, Value};
use crate::rewrite::{Rewritten, Texts};

/// What is to have another value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setting {
    /// Keys from the top of the plan, with `.` between them: `stock.birch18.thickness`. Entries of a list are numbered
    /// from 1.
    pub path: String,
    /// The value, as an author writes it.
    pub value: String,
}

/// What was set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Set {
    /// Where it stands: another place than was asked for where that only names a value.
    pub path: String,
    /// What stood there.
    pub was: String,
    /// What stands there now.
    pub now: String,
}

/// A plan with other values.
#[derive(Debug)]
pub struct Adapted {
    /// What was set, in the order in which it was asked for.
    pub set: Vec<Set>,
    /// The files that changed.
    pub changed: Vec<Rewritten>,
    /// Every file of the plan as it is now: its path below the plan's folder, `None` for the plan file itself.
    pub files: Vec<(Option<String>, Vec<u8>)>,
}

/// Why a plan cannot be adapted.
#[derive(Debug)]
pub enum AdaptFault {
    /// Its texts cannot be read.
    Unreadable(Sources, Findings),
    /// A setting cannot be made.
    Setting {
        /// The path that was given.
        path: String,
        /// What is wrong.
        message: String,
        /// How to mend it.
        fix: String,
    },
}

/// The most names of values that are followed from one to the next; a circle of them is a fault of the plan.
const MOST_NAMES: usize = 20;

/// Gives a plan other values.
///
/// # Errors
/// When the texts are no YAML, or a path leads to no single value.
pub fn adapt(
    name: &str,
    bytes: &[u8],
    includes: &dyn IncludeReader,
    settings: &[Setting],
) -> Result<Adapted, AdaptFault> {
    let texts = Texts::new(name, bytes, includes);
    let mut set = Vec::new();
    for setting in settings {
        // Each is looked for in the texts as the ones before left them, so that places are true.
        let (sources, tree, findings) = texts.load();
        let tree = match tree {
            Some(tree) if !findings.has_errors() => tree,
            _ => return Err(AdaptFault::Unreadable(sources, findings)),
        };
        let fault = |(message, fix): (String, String)| AdaptFault::Setting {
            path: setting.path.clone(),
            message,
            fix,
        };
        let now = written(&setting.value).map_err(fault)?;
        let (path, node) = place(&tree, &setting.path).map_err(fault)?;
        let span = whole_span(&sources, node).ok_or_else(|| fault(no_single(&path, node)))?;
        let was = sources.slice(span).to_owned();
        texts.apply(&sources, &BTreeMap::from([(span, now.clone())]));
        let (sources, tree, findings) = texts.load();
        let is_there = tree.as_ref().is_some_and(|tree| {
            let found = walk(tree, &path).ok().and_then(Node::scalar);
            found.is_some_and(|scalar| scalar.text == setting.value)
        });
        if findings.has_errors() {
            return Err(AdaptFault::Unreadable(sources, findings));
        }
        if !is_there {
            let message = format!("`{path}` cannot be replaced where it is written");
            return Err(fault((
                message,
                "write it out in the plan instead of using an alias or a block".to_owned(),
            )));
        }
        set.push(Set { path, was, now });
    }
    // What no setting made anybody read.
    let (sources, tree, findings) = texts.load();
    if tree.is_none() || findings.has_errors() {
        return Err(AdaptFault::Unreadable(sources, findings));
    }
    Ok(Adapted {
        set,
        files: texts.all(),
        changed: texts.changed(),
    })
}

/// What is wrong, and how to mend it.
type Wrong = (String, String);

/// Where a path leads, and to what. A place that only names one of the plan's values is that value's: the author means one
/// number, and formulas use it by its name.
fn place<'a>(tree: &'a Tree, path: &str) -> Result<(String, &'a Node), Wrong> {
    let mut path = path.to_owned();
    for _ in 0..MOST_NAMES {
        let node = walk(tree, &path)?;
        let named = node.scalar().map(|scalar| scalar.text.trim());
        let Some(value) = named.filter(|name| value_of(tree, name).is_some()) else {
            return Ok((path, node));
        };
        path = format!("values.{value}");
    }
    Err((
        format!("`{path}` names itself"),
        "mend the circle in `values`".to_owned(),
    ))
}

fn roots(tree: &Tree) -> impl Iterator<Item = &Node> {
    std::iter::once(&tree.main).chain(&tree.included)
}

fn value_of<'a>(tree: &'a Tree, name: &str) -> Option<&'a Node> {
    roots(tree).find_map(|root| root.get("values")?.get(name))
}

/// The node at a path, in the plan or in a file that it includes.
fn walk<'a>(tree: &'a Tree, path: &str) -> Result<&'a Node, Wrong> {
    let mut furthest: Option<(usize, Wrong)> = None;
    for root in roots(tree) {
        let mut node = root;
        let mut depth = 0;
        let mut fault = None;
        for key in path.split('.') {
            let Some(next) = step(node, key) else {
                fault = Some(no_key(node, key, path));
                break;
            };
            (node, depth) = (next, depth + 1);
        }
        match fault {
            None => return Ok(node),
            Some(fault) if furthest.as_ref().is_none_or(|(far, _)| depth > *far) => {
                furthest = Some((depth, fault));
            }
            Some(_) => {}
        }
    }
    Err(furthest.map_or_else(|| (String::new(), String::new()), |(_, fault)| fault))
}

fn step<'a>(node: &'a Node, key: &str) -> Option<&'a Node> {
    match &node.value {
        Value::Map(_) => node.get(key),
        Value::List(items) => items.get(key.parse::<usize>().ok()?.checked_sub(1)?),
        Value::Null | Value::Scalar(_) => None,
    }
}

/// The keys of a map, in the order of the plan.
fn keys(entries: &[Entry]) -> impl Iterator<Item = &str> {
    entries.iter().map(|entry| entry.key.value.as_str())
}

fn no_key(node: &Node, key: &str, path: &str) -> Wrong {
    let message = format!("the plan has no `{path}`: there is no `{key}`");
    let fix = match &node.value {
        Value::Map(entries) => {
            let keys: Vec<&str> = keys(entries).collect();
            match nearest(key, keys.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("there is {}", keys.join(", ")),
            }
        }
        Value::List(items) => format!("its entries are numbered from 1 to {}", items.len()),
        Value::Null | Value::Scalar(_) => "what stands before it is a single value".to_owned(),
    };
    (message, fix)
}

fn no_single(path: &str, node: &Node) -> Wrong {
    let fix = match &node.value {
        Value::Map(entries) => {
            let keys: Vec<&str> = keys(entries).collect();
            format!("set one of {} below it", keys.join(", "))
        }
        _ => format!("set one entry: `{path}.1`"),
    };
    (
        format!("`{path}` is {}, and a single value is set", node.kind()),
        fix,
    )
}

/// Where a single value is written, or a list of readings in brackets that one value stands for.
fn whole_span(sources: &Sources, node: &Node) -> Option<Span> {
    match &node.value {
        Value::Scalar(_) => Some(node.span),
        Value::List(items) if items.iter().all(|item| item.scalar().is_some()) => {
            let text = &sources.file(node.span.file).text;
            let begun = text.get(node.span.start as usize..)?.starts_with('[');
            let after = text.get(node.span.end as usize..)?;
            let skipped = after.trim_start_matches([' ', '\n', '\r', '\t', ',']);
            let end = node.span.end + (after.len() - skipped.len()) as u32;
            (begun
                && (skipped.starts_with(']') || text.get(..node.span.end as usize)?.ends_with(']')))
            .then(|| Span {
                end: if skipped.starts_with(']') {
                    end + 1
                } else {
                    node.span.end
                },
                ..node.span
            })
        }
        _ => None,
    }
}

/// A value as it is written into YAML: bare where that says the same in every place, in quotes elsewhere.
fn written(value: &str) -> Result<String, Wrong> {
    if value.trim().is_empty() || value.trim() != value || value.chars().any(char::is_control) {
        let message = format!("`{}` is no single value", value.escape_debug());
        return Err((
            message,
            "write one value in one line: `values.width=840`".to_owned(),
        ));
    }
    let bare = |c: char| c.is_ascii_alphanumeric() || "._/ -+*()".contains(c);
    let begins = value.starts_with(|c: char| c.is_ascii_alphanumeric());
    if begins && value.chars().all(bare) {
        return Ok(value.to_owned());
    }
    Ok(format!(
        "\"{}\"",
        value.replace('\\', "\\\\").replace('"', "\\\"")
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::NoIncludes;

    const PLAN: &str = "jigless: 1   # a plan\nvalues:\n  ply: 17.7  # measured\n  wide: 800\nstock:\n  birch:\n    thickness: ply\n    # three readings\n  pine: {thickness: [5.9, 6.0, 5.8], label: \"a \\\"b\\\"\"}\nparts:\n  deck: {width: wide - 2 * ply, count: 2}\n";

    fn set(settings: &[(&str, &str)]) -> Result<String, String> {
        let settings: Vec<Setting> = settings
            .iter()
            .map(|(path, value)| Setting {
                path: (*path).to_owned(),
                value: (*value).to_owned(),
            })
            .collect();
        match adapt("plan.yaml", PLAN.as_bytes(), &NoIncludes, &settings) {
            Ok(adapted) => {
                let (_, bytes) = adapted.files.into_iter().next().expect("the plan file");
                Ok(String::from_utf8(bytes).expect("UTF-8"))
            }
            Err(AdaptFault::Setting { message, fix, .. }) => Err(format!("{message}; {fix}")),
            Err(AdaptFault::Unreadable(_, findings)) => Err(format!("{findings:?}")),
        }
    }

    #[test]
    fn everything_else_stays_byte_for_byte() {
        let text = set(&[("values.wide", "840"), ("stock.pine.thickness", "6.1")]).unwrap();
        let expected = PLAN
            .replace("wide: 800", "wide: 840")
            .replace("[5.9, 6.0, 5.8]", "6.1");
        assert_eq!(text, expected);
    }

    #[test]
    fn a_place_that_names_a_value_is_that_value() {
        let text = set(&[("stock.birch.thickness", "17.4")]).unwrap();
        assert_eq!(text, PLAN.replace("ply: 17.7", "ply: 17.4"));
    }

    #[test]
    fn a_value_that_yaml_would_read_otherwise_is_quoted() {
        for value in [
            "max(ply, 18)",
            "3/4 in",
            "a: b # c",
            "- 3",
            "\"x\"",
            "back\\slash",
        ] {
            let text = set(&[("values.wide", value)]).expect(value);
            assert!(text.contains("parts:\n  deck:"), "{text}");
        }
        assert!(
            set(&[("values.wide", "1\n2")])
                .unwrap_err()
                .contains("no single value")
        );
    }

    #[test]
    fn what_is_not_there_is_named_with_the_nearest_key() {
        for (path, said) in [
            ("stock.birsh.thickness", "did you mean `birch`?"),
            ("values.wide.x", "a single value"),
            ("stock.birch", "set one of thickness below it"),
            ("parts.deck.count", "did you"),
        ] {
            match set(&[(path, "1")]) {
                Ok(text) => assert!(text.contains("count: 1"), "{text}"),
                Err(fault) => assert!(fault.contains(said), "{fault}"),
            }
        }
    }
}
