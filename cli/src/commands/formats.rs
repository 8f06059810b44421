//! `jigless formats`: what the registry holds, with every option.

use std::fmt::Write;

use jigless_core::export::{AnyExporter, Stage};
use jigless_exporters::{EXPORTERS, exporter};

use super::wrap;
use crate::args::FormatsArgs;
use crate::choice::unknown_format;
use crate::console::{self, Console};
use crate::exit::Exit;

const BOLD: anstyle::Style = anstyle::Style::new().bold();

/// Lists all formats, or one.
pub fn run(args: &FormatsArgs, console: &mut Console) -> Exit {
    let Some(id) = &args.id else {
        let all: Vec<String> = EXPORTERS
            .iter()
            .map(|exporter| describe(*exporter))
            .collect();
        console.out(&all.join("\n"));
        return Exit::Done;
    };
    if let Some(exporter) = exporter(id) {
        console.out(&describe(exporter));
        Exit::Done
    } else {
        let ids: Vec<&str> = EXPORTERS.iter().map(|exporter| exporter.id()).collect();
        let problem = unknown_format(id, &ids);
        console::problem(&problem);
        problem.exit
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
