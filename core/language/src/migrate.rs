//! A plan with its old names replaced: those that [`renamed`] lists are replaced in the text, and everything else,
//! comments and line ends too, stays byte for byte.
//!
//! Old names are found by reading the plan: each is reported as a finding that knows the present one. So what an old name means is
//! decided where it is read and nowhere else.

use std::collections::BTreeMap;

use jigless_model::check::Catalogue;
use jigless_model::diag::{Finding, Findings, Renamed};
use jigless_model::source::{SourceFile, Sources, Span};

use crate::codes;
use crate::feature::Registry;
use crate::load::{IncludeReader, Node, Value, parse};
use crate::renamed;
use crate::resolve::resolve;
use crate::rewrite::{Rewritten, Texts};

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
        let (sources, findings) = read(&texts, checks);
        let (old, others): (Vec<Finding>, Vec<Finding>) = findings
            .iter()
            .cloned()
            .partition(|finding| finding.renamed.is_some());
        if old.is_empty() {
            if findings.has_errors() {
                return Err((sources, findings));
            }
            return rewritten(texts);
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

fn read(texts: &Texts, checks: &Catalogue) -> (Sources, Findings) {
    let (sources, tree, mut findings) = texts.load();
    if let (Some(tree), false) = (tree, findings.has_errors()) {
        findings.extend(resolve(&sources, &tree, &Registry::new(), checks).1);
    }
    (sources, findings)
}

/// The changed files, once each of them is seen to differ from what it was in old names alone.
fn rewritten(texts: Texts) -> Result<Vec<Rewritten>, (Sources, Findings)> {
    let changed = texts.changed().into_iter();
    changed
        .map(|text| {
            let mut sources = Sources::default();
            let before = parse(&mut sources, &text.name, &text.before);
            let after = parse(&mut sources, &text.name, &text.after);
            match (before, after) {
                (Ok(before), Ok(after)) if same_but_for_names(&before, &after) => Ok(text),
                (Ok(Node { span, .. }), Ok(_)) => Err((sources, changed_otherwise(span).into())),
                (Err(faults), _) | (_, Err(faults)) => Err((sources, faults)),
            }
        })
        .collect()
}

/// What is to be written where, in the order of the text.
fn edits(sources: &Sources, old: &[Finding]) -> Result<BTreeMap<Span, String>, Findings> {
    let mut edits: BTreeMap<Span, String> = BTreeMap::new();
    for finding in old {
        let (Some(span), Some(renamed)) = (finding.span, finding.renamed) else {
            continue;
        };
        let Some(span) = within_quotes(sources.file(span.file), span, renamed.old) else {
            continue;
        };
        let now = renamed.now;
        if let Some(other) = edits.insert(span, now.to_owned())
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
