//! `jigless explain`: what a code means, what it measures, and what to do.

use std::fmt::Write;

use jigless_core::check::codes::CodeKind;
use jigless_core::check::{CHECKS, CheckKind, Group, LimitUnit};
use jigless_core::diag::{Renamed, Severity, nearest};
use jigless_core::renamed;
use jigless_core::units::decimal;

use super::wrap;
use crate::args::ExplainArgs;
use crate::codes::{self, Meaning};
use crate::console::{self, Console};
use crate::exit::{Exit, Problem};

const BOLD: anstyle::Style = anstyle::Style::new().bold();

/// Explains one code, or lists them all.
pub fn run(args: &ExplainArgs, console: &mut Console) -> Exit {
    let Some(code) = &args.code else {
        console.out(&list());
        return Exit::Done;
    };
    match codes::meaning(code) {
        Some(Meaning::Check(kind)) => console.out(&check(kind)),
        Some(Meaning::Fault(kind)) => console.out(&fault(kind)),
        None => {
            let problem = match renamed::check(code) {
                Some(Renamed { now, .. }) => {
                    Problem::usage(format!("`{code}` is now called `{now}`"))
                        .fix(format!("`jigless explain {now}` explains it"))
                }
                None => Problem::usage(format!("there is no code `{code}`")).fix(
                    match nearest(code, codes::all()) {
                        Some(near) => format!("did you mean `{near}`?"),
                        None => "`jigless explain` lists all codes".to_owned(),
                    },
                ),
            };
            console::problem(&problem);
            return problem.exit;
        }
    }
    Exit::Done
}

fn list() -> String {
    let mut text = String::new();
    for group in Group::ALL {
        // Writing to a String cannot fail.
        let _ = writeln!(text, "{BOLD}{}{BOLD:#}", group.name());
        for kind in CHECKS.iter().filter(|kind| kind.group == group) {
            let _ = writeln!(text, "  {:<26} {}", kind.code, kind.name);
        }
        text.push('\n');
    }
    let _ = writeln!(text, "{BOLD}Faults of plans, formats and options{BOLD:#}");
    let mut faults: Vec<&CodeKind> = codes::faults().collect();
    faults.sort_by_key(|kind| kind.code);
    for kind in faults {
        let _ = writeln!(text, "  {:<26} {}", kind.code, kind.name);
    }
    text
}

fn check(kind: &CheckKind) -> String {
    let mut text = format!("{BOLD}{}{BOLD:#} ({})\n", kind.code, word(kind.severity));
    wrap(&mut text, "  ", kind.name);
    let limit = kind.limit.as_ref().map(|limit| {
        let unit = match limit.unit {
            LimitUnit::Millimetres => " mm",
            LimitUnit::Number => "",
        };
        format!("{}{unit}: {}", decimal(limit.default, 3), limit.help)
    });
    let source = kind.source_in_words();
    for (title, words) in [
        ("Why", Some(kind.explanation)),
        ("Measures", Some(kind.measures)),
        ("Limit", limit.as_deref()),
        ("Formula", kind.formula),
        ("Source", Some(source.as_str())),
    ] {
        if let Some(words) = words {
            paragraph(&mut text, title, words);
        }
    }
    example(&mut text, kind.example);
    let limit = if kind.limit.is_some() {
        ", limit: ..."
    } else {
        ""
    };
    let code = kind.code;
    paragraph(
        &mut text,
        "Set it for a plan",
        &format!("`checks: {{{code}: {{severity: note{limit}}}}}`"),
    );
    paragraph(
        &mut text,
        "Accept it at its place",
        &format!(
            "`accept: {{{code}: the reason}}` on the feature, part, stock or entry of `usage`; the reason is kept with the plan"
        ),
    );
    text
}

fn fault(kind: &CodeKind) -> String {
    let mut text = format!("{BOLD}{}{BOLD:#} ({})\n", kind.code, word(kind.severity));
    wrap(&mut text, "  ", kind.name);
    paragraph(&mut text, "Why", kind.explanation);
    if !kind.example.is_empty() {
        example(&mut text, kind.example);
    }
    text
}

fn paragraph(text: &mut String, title: &str, words: &str) {
    let _ = writeln!(text, "\n{BOLD}{title}{BOLD:#}");
    wrap(text, "  ", words);
}

/// Lines of a plan keep their breaks.
fn example(text: &mut String, lines: &str) {
    let _ = writeln!(text, "\n{BOLD}Found at fault{BOLD:#}");
    for line in lines.lines() {
        let _ = writeln!(text, "  {line}");
    }
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}
