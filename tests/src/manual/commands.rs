//! The reference of commands: what the built program says of itself.

use std::fmt::Write as _;

use crate::fixtures::workspace;
use crate::program::{jigless, run};

/// Every command, in the order in which the program lists them.
///
/// # Panics
/// When the program does not run.
static COMMANDS: std::sync::LazyLock<Vec<String>> = std::sync::LazyLock::new(|| {
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
fn help(command: &str) -> String {
    // So wide that it fits a terminal of 80 columns with the manual's indent.
    let mut wanted = jigless(&workspace());
    let run = run(wanted.args([command, "--help"]).env("COLUMNS", "76")).done();
    // Exit codes and variables stand below every command; the page has them once.
    let own = run
        .stdout
        .split("\nExit status:")
        .next()
        .unwrap_or_default();
    let lines: Vec<&str> = own.trim_end().lines().map(str::trim_end).collect();
    lines.join("\n")
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

/// What a document says of the command line and the program does not know: one line for each.
pub fn unknown(document: &super::Page) -> Vec<String> {
    let mut wrong = Vec::new();
    let helps: Vec<(&str, String)> = COMMANDS
        .iter()
        .map(|command| (command.as_str(), help(command)))
        .collect();
    for code in code_of(&document.text) {
        let mut say = |what: &str| wrong.push(format!("{}: {what} in `{code}`", document.path));
        // The contributors' guide writes of the options of other programs.
        let own = document.path != "DEVELOPERS.md";
        let first = code.split([' ', '=']).next();
        if let Some(option) = first.filter(|word| own && word.starts_with("--")) {
            if !helps.iter().any(|(_, help)| holds(help, option)) {
                say("no command has that option");
            }
            continue;
        }
        let typed = code.split_once("jigless ");
        let Some((_, words)) = typed.or(code.split_once("cargo run --release -- ")) else {
            continue;
        };
        let mut words = words.split_whitespace();
        let Some(name) = words.next().filter(|name| is_name(name)) else {
            continue;
        };
        match helps.iter().find(|(command, _)| *command == name) {
            None if name == "help" => {}
            None => say(&format!("no command {name}")),
            Some((_, help)) => {
                for option in words.filter(|word| word.starts_with("--")) {
                    let option = option.split('=').next().unwrap_or(option);
                    if !holds(help, option) {
                        say(&format!("{name} has no {option}"));
                    }
                }
            }
        }
    }
    wrong
}

/// Whether a help lists an option.
fn holds(help: &str, option: &str) -> bool {
    help.split_whitespace()
        .any(|word| word.trim_end_matches(',') == option)
}

fn is_name(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_lowercase())
        && word.chars().all(|c| c.is_ascii_lowercase() || c == '-')
}

/// Lines to be typed, and code in running text.
fn code_of(text: &str) -> Vec<String> {
    let mut codes = Vec::new();
    let mut shell = false;
    for line in text.lines() {
        if line.starts_with("```") {
            shell = line == "```sh";
        } else if shell {
            let typed = line.split(" #").next().unwrap_or(line);
            codes.push(typed.to_owned());
        }
    }
    for line in super::links::prose(text) {
        codes.extend(line.split('`').skip(1).step_by(2).map(str::to_owned));
    }
    codes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::manual::Page;

    #[test]
    fn a_command_that_is_not_there_is_named() {
        let page = Page {
            path: "x.md".to_owned(),
            text: "`jigless exprt` and `jigless check --quiet a` and `jigless check --loud` and `--no`\n\n\
                ```sh\ncargo run --release -- export --dry-run a   # --not-read\njigless export --wet a\n```\n"
                .to_owned(),
        };
        assert_eq!(
            unknown(&page),
            [
                "x.md: export has no --wet in `jigless export --wet a`",
                "x.md: no command exprt in `jigless exprt`",
                "x.md: check has no --loud in `jigless check --loud`",
                "x.md: no command has that option in `--no`",
            ]
        );
    }
}
