//! What is wrong with the command line, in the words of everything else that is reported.

use clap::error::{ContextKind, ContextValue, Error, ErrorKind};

use crate::console;
use crate::exit::{Exit, Problem};

/// Options and commands that have another name now.
const RENAMED: [(&str, &str); 3] = [
    ("--message-format", "--findings"),
    ("explain", "why"),
    ("new", "start"),
];

/// Prints what is wrong, or the help or version that was asked for; gives how the program ends.
pub fn report(error: &Error) -> Exit {
    if !error.use_stderr() {
        // A reader that has gone is no fault.
        let _ = error.print();
        return Exit::Done;
    }
    // A command that needs more words prints its help.
    if error.kind() == ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand {
        let _ = error.print();
        return Exit::Usage;
    }
    let problem = problem(error);
    console::problem(&problem);
    problem.exit
}

fn problem(error: &Error) -> Problem {
    let word = [ContextKind::InvalidArg, ContextKind::InvalidSubcommand]
        .into_iter()
        .find_map(|kind| words(error, kind));
    if matches!(
        error.kind(),
        ErrorKind::UnknownArgument | ErrorKind::InvalidSubcommand
    ) && let Some((old, new)) = RENAMED
        .iter()
        .find(|(old, _)| word.as_deref() == Some(*old))
    {
        return Problem::usage(format!("`{old}` is called `{new}` now")).fix(format!(
            "write `{new}`; `jigless --help` says what it takes"
        ));
    }
    let word = word.unwrap_or_default();
    let message = match error.kind() {
        ErrorKind::UnknownArgument => format!("there is no option or argument `{word}` here"),
        ErrorKind::InvalidSubcommand => format!("there is no command `{word}`"),
        ErrorKind::MissingRequiredArgument => format!("`{word}` is missing"),
        _ => {
            let text = error.to_string();
            let first = text.split("\n\n").next().unwrap_or_default();
            let first = first.strip_prefix("error: ").unwrap_or(first);
            first.split_whitespace().collect::<Vec<&str>>().join(" ")
        }
    };
    let near = [
        ContextKind::SuggestedArg,
        ContextKind::SuggestedSubcommand,
        ContextKind::SuggestedValue,
    ];
    let fix = match near.into_iter().find_map(|kind| words(error, kind)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => match words(error, ContextKind::Usage) {
            Some(usage) => format!("write {}", usage.trim_start_matches("Usage: ")),
            None => {
                "`jigless --help` lists the commands, `jigless COMMAND --help` the options of one"
                    .to_owned()
            }
        },
    };
    Problem::usage(message).fix(fix)
}

/// What the parser says of its error, as one text.
fn words(error: &Error, kind: ContextKind) -> Option<String> {
    match error.get(kind)? {
        ContextValue::String(word) => Some(word.clone()),
        // Of several suggestions the last one is the nearest.
        ContextValue::Strings(words) => words.last().cloned(),
        ContextValue::StyledStr(word) => Some(word.to_string()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use clap::Parser;

    use super::*;
    use crate::args::Args;

    fn fault(words: &[&str]) -> Problem {
        problem(&Args::try_parse_from(words).unwrap_err())
    }

    #[test]
    fn what_was_renamed_is_named_anew() {
        for (words, new) in [
            (
                &["jigless", "check", "a", "--message-format", "json"][..],
                "--findings",
            ),
            (
                &["jigless", "check", "a", "--message-format=json"],
                "--findings",
            ),
            (&["jigless", "new", "shelf"], "start"),
            (&["jigless", "explain"], "why"),
        ] {
            let fault = fault(words);
            assert!(
                fault.message.ends_with(&format!("is called `{new}` now")),
                "{fault:?}"
            );
            assert_eq!(fault.exit, Exit::Usage);
        }
    }

    #[test]
    fn faults_are_one_sentence_with_a_remedy() {
        for (words, message, fix) in [
            (&["jigless", "chekc", "a"][..], "chekc", "`check`"),
            (
                &["jigless", "export", "a", "--jbos", "2"],
                "--jbos",
                "`--jobs`",
            ),
            (&["jigless", "export"], "<PATH>", "jigless export"),
            (
                &["jigless", "export", "a", "--jobs", "0"],
                "--jobs",
                "--help",
            ),
            (
                &["jigless", "export", "a", "--set", "x"],
                "FORMAT.OPTION=VALUE",
                "--help",
            ),
        ] {
            let fault = fault(words);
            assert!(fault.message.contains(message), "{fault:?}");
            assert!(!fault.message.contains('\n'), "{fault:?}");
            assert!(fault.fix.as_ref().unwrap().contains(fix), "{fault:?}");
        }
    }
}
