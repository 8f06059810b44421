//! The manual: its pages, what they quote from plans, and what is made of the declarations.
//!
//! A page is written by hand but for its regions: between `<!-- NAME -->` and `<!-- end of NAME -->` stands what
//! [`made`] gives for the name, so that a plan lives once and a table never falls behind the program.

mod codes;
mod commands;
mod excerpt;
mod formats;
mod keys;
mod kinds;
pub mod links;
mod pages;

use std::fmt::Write as _;

pub use commands::unknown;
pub use pages::{Page, pages};

/// A page with every region made anew.
///
/// # Panics
/// When a region has no end, or nobody knows its name.
pub fn made(page: &Page) -> String {
    let mut text = String::new();
    let mut rest = page.text.as_str();
    while let Some((before, name, after)) = next_region(rest) {
        let end = format!("<!-- end of {name} -->");
        let Some((_, behind)) = after.split_once(&end) else {
            panic!("{}: the region `{name}` has no end", page.path)
        };
        let content = region(name).unwrap_or_else(|| panic!("{}: what is `{name}`?", page.path));
        text.push_str(before);
        let content = content.trim();
        let _ = write!(text, "<!-- {name} -->\n\n{content}\n\n{end}");
        rest = behind;
    }
    text.push_str(rest);
    text
}

/// How many lines of a page are there to be read from end to end: all but tables that are made, which are looked up.
pub fn lines_to_read(page: &Page) -> usize {
    let mut lines = 0;
    let mut in_table = false;
    for line in page.text.lines() {
        in_table |= line.starts_with("<!-- ") && !line.starts_with("<!-- from ");
        in_table &= !line.starts_with("<!-- end of ");
        lines += usize::from(!in_table);
    }
    lines
}

/// What stands before a region, its name, and what stands behind its first line. A mark begins its line.
fn next_region(text: &str) -> Option<(&str, &str, &str)> {
    let start = text.find("\n<!-- ")? + 1;
    let (before, rest) = text.split_at(start);
    let (name, after) = rest.strip_prefix("<!-- ")?.split_once(" -->")?;
    Some((before, name, after))
}

/// The content of a region by its name: `from PATH` for a whole file, `from PATH: KEY.KEY` for an excerpt, or one of the
/// tables.
fn region(name: &str) -> Option<String> {
    if let Some(wanted) = name.strip_prefix("from ") {
        return Some(excerpt::quoted(wanted));
    }
    Some(match name {
        "topics" => pages::topics(),
        "plan keys" => keys::plan_keys(),
        "part keys" => keys::part_keys(),
        "stock keys" => keys::stock_keys(),
        "spread keys" => keys::spread_keys(),
        "place keys" => keys::place_keys(),
        "features" => kinds::features(),
        "joints" => kinds::joints(),
        "builders" => kinds::builders(),
        "usage" => kinds::usage(),
        "checks" => codes::checks(),
        "faults" => codes::faults(),
        "formats" => formats::formats(),
        "commands" => commands::commands(),
        _ => return None,
    })
}
