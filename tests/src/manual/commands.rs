//! The reference of commands: what the built program says of itself.

use std::fmt::Write as _;

use crate::fixtures::workspace;
use crate::program::{jigless, run};

/// Every command, in the order in which the program lists them.
///
/// # Panics
/// When the program does not run.
pub static COMMANDS: std::sync::LazyLock<Vec<String>> = std::sync::LazyLock::new(|| {
    let help = run(jigless(&workspace()).arg("--help")).done().stdout;
    let (_, list) = help.split_once("Commands:\n").expect("a list of commands");
    list.lines()
        .take_while(|line| line.starts_with(' '))
        // A line that is indented further goes on with what stands above it.
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .filter(|name| *name != "help")
        .map(str::to_owned)
        .collect()
});

/// What the program says of a command.
///
/// # Panics
/// When the program does not run.
pub fn help(command: &str) -> String {
    let run = run(jigless(&workspace()).args([command, "--help"])).done();
    // Exit codes and variables stand below every command; the page has them once.
    let own = run.stdout.split("\nExit status:").next();
    own.unwrap_or_default().trim_end().to_owned()
}

/// Every command with its help.
pub(super) fn commands() -> String {
    let mut text = String::new();
    for command in COMMANDS.iter() {
        let help = help(command);
        let (summary, rest) = help.split_once("\n\n").unwrap_or((&help, ""));
        let summary = summary.split_whitespace().collect::<Vec<_>>().join(" ");
        let _ = write!(
            text,
            "## `jigless {command}`\n\n{summary}\n\n```text\n{rest}\n```\n\n"
        );
    }
    text
}
