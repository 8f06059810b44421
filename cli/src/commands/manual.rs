//! `jigless manual`: the pages of the manual in the terminal.

use std::fmt::Write;

use jigless_core::diag::nearest;

use crate::args::ManualArgs;
use crate::console::{self, Console};
use crate::exit::{Exit, Problem};
use crate::markdown::{self, BOLD};
use crate::styled::Styled;

/// A page, as it stands in the repository.
struct Page {
    /// Its path there.
    path: &'static str,
    text: &'static str,
}

/// Pages by their paths from the workspace's folder.
macro_rules! pages {
    ($($path:literal),* $(,)?) => {
        &[$(Page {
            path: $path,
            text: include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/../", $path)),
        }),*]
    };
}

/// Every page, in the order in which they are best read.
static PAGES: &[Page] = pages![
    "core/manual/tutorial.md",
    "core/manual/pair-of-doors.md",
    "core/manual/drawer-bank.md",
    "core/manual/laser-tray.md",
    "core/manual/tool-rack.md",
    "core/manual/cabinet-on-casters.md",
    "core/manual/cautions.md",
    "core/manual/plan.md",
    "core/manual/lengths.md",
    "core/manual/features.md",
    "core/manual/joints.md",
    "core/manual/builders.md",
    "core/manual/usage.md",
    "core/manual/finish.md",
    "core/manual/adapting.md",
    "core/manual/checks.md",
    "core/manual/faults.md",
    "exporters/manual/formats.md",
    "exporters/manual/options.md",
    "exporters/manual/pictures.md",
    "exporters/manual/printing.md",
    "exporters/manual/machines.md",
    "cli/manual/commands.md",
    "cli/manual/findings.md",
    "cli/manual/printers.md",
    "cli/manual/live.md",
    "cli/manual/libraries.md",
    "cli/manual/publishing.md",
    "cli/manual/outside-formats.md",
];

impl Page {
    fn topic(&self) -> &'static str {
        topic_of(self.path)
    }

    /// The paragraph below the title, which stands on one line and says what the page is about.
    fn summary(&self) -> &'static str {
        self.text.lines().nth(2).unwrap_or_default()
    }
}

/// The name of a file without its ending.
fn topic_of(path: &str) -> &str {
    let name = path.rsplit('/').next().unwrap_or(path);
    name.strip_suffix(".md").unwrap_or(name)
}

/// Prints a page, or the topics.
pub fn run(args: &ManualArgs, console: &mut Console) -> Exit {
    let width = markdown::terminal_width();
    let Some(topic) = &args.topic else {
        console.out_styled(&Styled::own(topics(width)));
        return Exit::Done;
    };
    let wanted = topic_of(topic).to_lowercase();
    let Some(page) = PAGES.iter().find(|page| page.topic() == wanted) else {
        let problem = Problem::usage(format!("the manual has no topic `{topic}`"));
        let problem = problem.fix(match nearest(&wanted, PAGES.iter().map(Page::topic)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`jigless manual` lists all topics".to_owned(),
        });
        console::problem(&problem);
        return problem.exit;
    };
    // Pages are a part of the program.
    let text = markdown::to_terminal(page.text, width, &link);
    console.out_styled(&Styled::own(text));
    Exit::Done
}

/// What stands behind the text of a link: the topic of another page, or the place of another file.
fn link(target: &str) -> Option<String> {
    let (path, _) = target.split_once('#').unwrap_or((target, ""));
    if path.is_empty() {
        return None;
    }
    let topic = topic_of(path);
    if PAGES.iter().any(|page| page.topic() == topic) {
        return Some(format!("topic {topic}"));
    }
    Some(path.trim_start_matches("../").to_owned())
}

fn topics(width: usize) -> String {
    let mut text = String::new();
    let indent = PAGES.iter().map(|page| page.topic().len()).max();
    let indent = " ".repeat(indent.unwrap_or_default() + 4);
    for (folder, title) in [
        ("core/", "The plan"),
        ("exporters/", "The files that are made"),
        ("cli/", "The program"),
    ] {
        // Writing to a String cannot fail.
        let _ = writeln!(text, "{BOLD}{title}{BOLD:#}");
        for page in PAGES.iter().filter(|page| page.path.starts_with(folder)) {
            let topic = format!("  {:<1$}", page.topic(), indent.len() - 2);
            text.push_str(&markdown::wrapped(page.summary(), &topic, &indent, width));
        }
        text.push('\n');
    }
    text.push_str("`jigless manual TOPIC` prints a page.\n");
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn topics_are_different_and_say_what_they_are_about() {
        for (at, page) in PAGES.iter().enumerate() {
            assert!(page.text.starts_with("# "), "{}", page.path);
            assert!(page.summary().ends_with('.'), "{}", page.path);
            assert!(
                PAGES[..at]
                    .iter()
                    .all(|other| other.topic() != page.topic()),
                "{} is there twice",
                page.topic()
            );
        }
    }

    #[test]
    fn links_name_topics_and_files() {
        assert_eq!(link("#own-heading"), None);
        assert_eq!(
            link("../../core/manual/lengths.md#outlines").as_deref(),
            Some("topic lengths")
        );
        assert_eq!(
            link("../../fixtures/features/hole/plan.yaml").as_deref(),
            Some("fixtures/features/hole/plan.yaml")
        );
    }
}
