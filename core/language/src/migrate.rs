//! A plan with its old names replaced: those that [`renamed`] lists are replaced in the text, and everything else,
//! comments and line ends too, stays byte for byte.
//!
//! Old names are found by reading the plan: each is reported as a finding that knows the present one. So what an old name means is
//! decided where it is read and nowhere else.

use std::cell::RefCell;
use std::collections::BTreeMap;

use jigless_model::check::Catalogue;
use jigless_model::diag::{Finding, Findings, Renamed};
use jigless_model::source::{SourceFile, Sources, Span};

use crate::codes;
use crate::feature::Registry;
use crate::load::{IncludeReader, Node, Value, load, parse};
use crate::renamed;
use crate::resolve::resolve;

/// A file whose text changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rewritten {
    /// Its path as the user would write it.
    pub name: String,
    /// Its path below the plan's folder; `None` for the plan file itself.
    pub include: Option<String>,
    /// What it holds.
    pub before: Vec<u8>,
    /// What it is to hold.
    pub after: Vec<u8>,
    /// Numbers of the lines that change, from 1, in order. No line is added or taken away.
    pub lines: Vec<usize>,
    /// How many names are replaced.
    pub names: usize,
}

/// The files of a plan that change; `checks` are those that it may set and accept. None where the plan has no old names.
///
/// # Errors
/// Findings with the texts that they point into, when the plan has other errors, or an old name cannot be replaced where
/// it is written. Then nothing is to be written.
pub fn migrate(
    name: &str,
    bytes: &[u8],
    includes: &dyn IncludeReader,
    checks: &Catalogue,
) -> Result<Vec<Rewritten>, (Sources, Findings)> {
    let texts = Texts::new(name, bytes, includes);
    // An alias can hide a name from one round, and a list of findings takes only so many.
    loop {
        let (sources, findings) = texts.read(checks);
        let (old, others): (Vec<Finding>, Vec<Finding>) = findings
            .iter()
            .cloned()
            .partition(|finding| finding.renamed.is_some());
        if old.is_empty() {
            if findings.has_errors() {
                return Err((sources, findings));
            }
            return texts.rewritten();
        }
        let edits = edits(&sources, &old).map_err(|faults| (sources.clone(), faults))?;
        if edits.is_empty() {
            // What is left stands where it cannot be replaced.
            let mut left = Findings::new();
            old.into_iter()
                .chain(others)
                .for_each(|finding| left.push(finding));
            return Err((sources, left));
        }
        texts.apply(&sources, &edits);
    }
}

/// The texts of a plan as far as they are changed; the others come from their reader.
struct Texts<'a> {
    name: &'a str,
    includes: &'a dyn IncludeReader,
    files: RefCell<BTreeMap<Option<String>, Text>>,
}

struct Text {
    name: String,
    before: Vec<u8>,
    after: Vec<u8>,
    names: usize,
}

impl<'a> Texts<'a> {
    fn new(name: &'a str, bytes: &[u8], includes: &'a dyn IncludeReader) -> Self {
        let texts = Self {
            name,
            includes,
            files: RefCell::default(),
        };
        texts.remember(None, bytes);
        texts
    }

    fn remember(&self, include: Option<String>, bytes: &[u8]) {
        let name = match &include {
            Some(path) => self.shown(path),
            None => self.name.to_owned(),
        };
        let text = Text {
            name,
            before: bytes.to_vec(),
            after: bytes.to_vec(),
            names: 0,
        };
        self.files.borrow_mut().insert(include, text);
    }

    /// The name of an included file in [`Sources`].
    fn shown(&self, path: &str) -> String {
        let folder = self.name.rfind('/').map_or("", |at| &self.name[..=at]);
        format!("{folder}{path}")
    }

    fn read(&self, checks: &Catalogue) -> (Sources, Findings) {
        let main = self
            .files
            .borrow()
            .get(&None)
            .map(|text| text.after.clone());
        let (sources, tree, mut findings) = load(self.name, &main.unwrap_or_default(), self);
        if let (Some(tree), false) = (tree, findings.has_errors()) {
            findings.extend(resolve(&sources, &tree, &Registry::new(), checks).1);
        }
        (sources, findings)
    }

    fn apply(&self, sources: &Sources, edits: &BTreeMap<Span, &'static str>) {
        for (id, file) in sources.files() {
            let mut files = self.files.borrow_mut();
            let Some(text) = files.values_mut().find(|text| text.name == file.name) else {
                continue;
            };
            // A mark of the encoding is no part of the text that spans count in.
            let mark = text.after.len() - file.text.len();
            let own = edits.iter().filter(|(span, _)| span.file == id);
            for (span, name) in own.rev() {
                let range = mark + span.start as usize..mark + span.end as usize;
                text.after.splice(range, name.bytes());
                text.names += 1;
            }
        }
    }

    /// The changed files, once each of them is seen to differ from what it was in old names alone.
    fn rewritten(self) -> Result<Vec<Rewritten>, (Sources, Findings)> {
        let changed = self.files.into_inner().into_iter();
        changed
            .filter(|(_, text)| text.before != text.after)
            .map(|(include, text)| {
                let mut sources = Sources::default();
                let before = parse(&mut sources, &text.name, &text.before);
                let after = parse(&mut sources, &text.name, &text.after);
                match (before, after) {
                    (Ok(before), Ok(after)) if same_but_for_names(&before, &after) => {}
                    (Ok(Node { span, .. }), Ok(_)) => {
                        return Err((sources, changed_otherwise(span).into()));
                    }
                    (Err(faults), _) | (_, Err(faults)) => return Err((sources, faults)),
                }
                Ok(Rewritten {
                    lines: changed_lines(&text.before, &text.after),
                    name: text.name,
                    include,
                    before: text.before,
                    after: text.after,
                    names: text.names,
                })
            })
            .collect()
    }
}

impl IncludeReader for Texts<'_> {
    fn read(&self, path: &str) -> Result<Vec<u8>, String> {
        let include = Some(path.to_owned());
        if let Some(text) = self.files.borrow().get(&include) {
            return Ok(text.after.clone());
        }
        let bytes = self.includes.read(path)?;
        self.remember(include, &bytes);
        Ok(bytes)
    }
}

/// What is to be written where, in the order of the text.
fn edits(sources: &Sources, old: &[Finding]) -> Result<BTreeMap<Span, &'static str>, Findings> {
    let mut edits: BTreeMap<Span, &'static str> = BTreeMap::new();
    for finding in old {
        let (Some(span), Some(renamed)) = (finding.span, finding.renamed) else {
            continue;
        };
        let Some(span) = within_quotes(sources.file(span.file), span, renamed.old) else {
            continue;
        };
        let now = renamed.now;
        if let Some(other) = edits.insert(span, now)
            && other != now
        {
            let message = format!(
                "this is now called `{other}` in one place that uses it and `{now}` in another"
            );
            return Err(Finding::error(codes::OLD_NAME, span, message)
                .fix("write it out in both places instead of using an alias")
                .into());
        }
    }
    Ok(edits)
}

/// The place of an old name without its quotes. `None` where something else is written there, such as an alias.
fn within_quotes(file: &SourceFile, span: Span, old: &str) -> Option<Span> {
    let written = file.text.get(span.start as usize..span.end as usize)?;
    let quote = written.find(old)? as u32;
    (written.trim_matches(['"', '\'']) == old).then(|| Span {
        file: span.file,
        start: span.start + quote,
        end: span.start + quote + old.len() as u32,
    })
}

fn all_names() -> impl Iterator<Item = &'static Renamed> {
    let words = renamed::WORDS.iter();
    renamed::KEYS.iter().chain(words).chain(renamed::CHECKS)
}

fn same_name(before: &str, after: &str) -> bool {
    before == after || all_names().any(|name| name.old == before && name.now == after)
}

/// Whether two trees are the same in all but names that were changed.
fn same_but_for_names(before: &Node, after: &Node) -> bool {
    match (&before.value, &after.value) {
        (Value::Null, Value::Null) => true,
        (Value::Scalar(a), Value::Scalar(b)) => a.quoted == b.quoted && same_name(&a.text, &b.text),
        (Value::List(a), Value::List(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same_but_for_names(a, b))
        }
        (Value::Map(a), Value::Map(b)) => {
            a.len() == b.len()
                && a.iter().zip(b).all(|(a, b)| {
                    same_name(&a.key.value, &b.key.value) && same_but_for_names(&a.value, &b.value)
                })
        }
        _ => false,
    }
}

fn changed_otherwise(span: Span) -> Finding {
    Finding::error(
        codes::OLD_NAME,
        span,
        "with its old names replaced this file would say something else",
    )
    .fix("replace the old names by hand; `jigless check` reports where they are")
}

/// Numbers of the lines that differ. Names hold no line breaks, so there are as many lines as before.
fn changed_lines(before: &[u8], after: &[u8]) -> Vec<usize> {
    let lines = |bytes: &'_ [u8]| {
        bytes
            .split(|byte| *byte == b'\n')
            .map(<[u8]>::to_vec)
            .collect::<Vec<_>>()
    };
    let pairs = lines(before).into_iter().zip(lines(after));
    pairs
        .enumerate()
        .filter(|(_, (before, after))| before != after)
        .map(|(index, _)| index + 1)
        .collect()
}
