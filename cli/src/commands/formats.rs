//! `jigless formats`: what the registry holds, with every option.

use std::fmt::Write;

use jigless_core::export::{AnyExporter, Stage};

use super::{print_faults, wrap};
use crate::args::FormatsArgs;
use crate::choice::{Faults, Setup, unknown_format};
use crate::console::{self, Console};
use crate::exit::Exit;

const BOLD: anstyle::Style = anstyle::Style::new().bold();

/// Lists all formats, or one.
pub fn run(args: &FormatsArgs, console: &mut Console) -> Exit {
    let setup = match Setup::read(args.profile.as_deref()) {
        Ok(setup) => setup,
        Err(faults) => return print_faults(faults, console),
    };
    if let Some(id) = &args.id
        && !setup.ids().contains(&id.as_str())
    {
        let problem = unknown_format(id, &setup.ids());
        console::problem(&problem);
        return problem.exit;
    }
    let wanted = |id: &str| args.id.as_ref().is_none_or(|wanted| wanted == id);
    match setup.formats(wanted) {
        Ok(formats) => {
            let all: Vec<String> = formats.iter().map(|f| describe(f.exporter)).collect();
            console.out(&all.join("\n"));
            Exit::Done
        }
        Err(problems) => print_faults(
            Faults {
                problems,
                ..Faults::default()
            },
            console,
        ),
    }
}

fn describe(exporter: &dyn AnyExporter) -> String {
    let id = exporter.id();
    let stage = match exporter.stage() {
        Stage::Part => "files for each part",
        Stage::Plan => "files for the whole plan",
        Stage::Sheet => "files for the sheets of a plan",
    };
    let mut text = format!("{BOLD}{id}{BOLD:#} ({stage})\n");
    wrap(&mut text, "  ", exporter.summary());
    for option in exporter.options() {
        let key = option.key;
        // Writing to a String cannot fail.
        let _ = writeln!(text, "\n  {BOLD}{id}.{key}{BOLD:#}={}", option.accepts);
        wrap(&mut text, "      ", &option.help);
        wrap(&mut text, "      ", &format!("Default: {}", option.default));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_wrapped_and_none_is_lost() {
        let words = "abcd ".repeat(60);
        let mut text = String::new();
        wrap(&mut text, "    ", &words);
        assert!(
            text.lines()
                .all(|line| line.len() <= crate::commands::COLUMNS && line.starts_with("    abcd"))
        );
        assert_eq!(text.split_whitespace().count(), 60);
    }
}
