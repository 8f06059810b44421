//! Links between documents: where each leads, and whether anything is there.

use std::collections::BTreeSet;

use super::Page;
use crate::fixtures::workspace;

/// What is wrong with the links of a page: one line for each that leads nowhere.
pub fn broken(page: &Page, all: &[Page]) -> Vec<String> {
    let mut wrong = Vec::new();
    for target in targets(&page.text) {
        if target.contains("://") {
            continue;
        }
        let (path, anchor) = target.split_once('#').unwrap_or((&target, ""));
        let path = if path.is_empty() {
            page.path.clone()
        } else {
            resolved(&page.path, path)
        };
        let there = all.iter().find(|other| other.path == path);
        if there.is_none() && !workspace().join(&path).exists() {
            wrong.push(format!("{}: {target} is not there", page.path));
        } else if !anchor.is_empty()
            && !there.is_some_and(|other| anchors(&other.text).contains(anchor))
        {
            wrong.push(format!("{}: {target} has no such heading", page.path));
        }
    }
    wrong
}

/// The targets of all links and pictures outside of code.
fn targets(text: &str) -> Vec<String> {
    let mut targets = Vec::new();
    for line in prose(text) {
        for piece in line.split("](").skip(1) {
            if let Some((target, _)) = piece.split_once(')') {
                targets.push(target.to_owned());
            }
        }
    }
    targets
}

/// The lines that are not in code blocks.
pub fn prose(text: &str) -> impl Iterator<Item = &str> {
    let mut code = false;
    text.lines().filter(move |line| {
        let fence = line.starts_with("```");
        code ^= fence;
        !code && !fence
    })
}

/// A path relative to a page, without `..`, below the workspace.
fn resolved(page: &str, target: &str) -> String {
    let mut names: Vec<&str> = page.split('/').collect();
    names.pop();
    for name in target.split('/') {
        match name {
            ".." => {
                names.pop();
            }
            "." | "" => {}
            name => names.push(name),
        }
    }
    names.join("/")
}

/// The targets that headings make: letters in lower case, hyphens for spaces, no other signs.
fn anchors(text: &str) -> BTreeSet<String> {
    let headings = prose(text).filter(|line| line.starts_with('#'));
    headings
        .map(|line| {
            let title = line.trim_start_matches('#').trim().to_lowercase();
            title
                .chars()
                .filter_map(|c| match c {
                    ' ' => Some('-'),
                    c if c.is_alphanumeric() || c == '-' || c == '_' => Some(c),
                    _ => None,
                })
                .collect()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_that_leads_nowhere_is_named() {
        let page = Page {
            path: "cli/manual/x.md".to_owned(),
            text:
                "# A `b` c\n\n[own](#a-b-c), [none](#d), [up](../../README.md), [gone](gone.md)\n"
                    .to_owned(),
        };
        assert_eq!(
            broken(&page, std::slice::from_ref(&page)),
            [
                "cli/manual/x.md: #d has no such heading",
                "cli/manual/x.md: gone.md is not there"
            ]
        );
    }
}
