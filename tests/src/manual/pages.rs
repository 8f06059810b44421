//! The pages themselves.

use std::fmt::Write as _;

use crate::fixtures::{files_of, workspace};
use crate::program::{jigless, run};

/// The folders that hold pages, in the order in which the manual lists them.
const FOLDERS: &[(&str, &str)] = &[
    ("core/manual", "The plan"),
    ("exporters/manual", "The files that are made"),
    ("cli/manual", "The program"),
];

/// A page of the manual, or another document beside it.
#[derive(Debug, Clone)]
pub struct Page {
    /// Its path below the workspace, with `/` between names.
    pub path: String,
    /// Its text.
    pub text: String,
}

impl Page {
    /// Reads a document of the workspace.
    ///
    /// # Panics
    /// When it cannot be read.
    pub fn read(path: &str) -> Self {
        let text = std::fs::read_to_string(workspace().join(path))
            .unwrap_or_else(|error| panic!("{path} cannot be read: {error}"));
        Self {
            path: path.to_owned(),
            text,
        }
    }

    /// What `jigless manual` calls it.
    pub fn topic(&self) -> &str {
        let name = self.path.rsplit('/').next().unwrap_or(&self.path);
        name.strip_suffix(".md").unwrap_or(name)
    }

    /// Its first heading.
    pub fn title(&self) -> &str {
        let line = self.text.lines().find_map(|line| line.strip_prefix("# "));
        line.unwrap_or_default()
    }

    /// The paragraph below its first heading, which says what it is about.
    pub fn summary(&self) -> &str {
        self.text.lines().nth(2).unwrap_or_default()
    }
}

/// Every page, in a fixed order.
pub fn pages() -> Vec<Page> {
    let folders = FOLDERS.iter().map(|(folder, _)| *folder);
    folders.flat_map(pages_of).collect()
}

fn pages_of(folder: &str) -> Vec<Page> {
    let names = files_of(&workspace().join(folder), "md").into_iter();
    names
        .map(|(name, _)| Page::read(&format!("{folder}/{name}")))
        .collect()
}

/// A list of all pages for the index, which stands in `cli/manual`; in the order in which the program lists them.
///
/// # Panics
/// When the program does not run.
pub(super) fn topics() -> String {
    let listed = run(jigless(&workspace()).arg("manual")).done().stdout;
    let place = |page: &Page| {
        let line = format!("  {} ", page.topic());
        listed.lines().position(|listed| listed.starts_with(&line))
    };
    let mut text = String::new();
    for (folder, title) in FOLDERS {
        let _ = writeln!(text, "## {title}\n");
        let mut pages = pages_of(folder);
        pages.retain(|page| page.topic() != "index");
        pages.sort_by_key(place);
        for page in pages {
            let link = format!("../../{}", page.path);
            let _ = writeln!(text, "- [{}]({link}): {}", page.title(), page.summary());
        }
        text.push('\n');
    }
    text
}
