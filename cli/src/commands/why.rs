//! `jigless why`: what a code means, what it measures, and what to do.

use jigless_core::check::codes::CodeKind;
use jigless_core::check::{CHECKS, CheckKind, Group, LimitUnit};
use jigless_core::diag::{Renamed, Severity, nearest};
use jigless_core::renamed;
use jigless_core::units::decimal;

use crate::args::WhyArgs;
use crate::codes::{self, Meaning};
use crate::console::{self, Console};
use crate::exit::{Exit, Problem};
use crate::page::Page;
use crate::styled::Styled;

const BOLD: anstyle::Style = anstyle::Style::new().bold();

/// Explains one code, or lists them all.
pub fn run(args: &WhyArgs, console: &mut Console) -> Exit {
    let Some(code) = &args.code else {
        console.out_styled(&list());
        return Exit::Done;
    };
    let columns = Page::of_stdout().explanation();
    match codes::meaning(code) {
        Some(Meaning::Check(kind)) => console.out_styled(&check(kind, columns)),
        Some(Meaning::Fault(kind)) => console.out_styled(&fault(kind, columns)),
        None => {
            let problem = match renamed::check(code) {
                Some(Renamed { now, .. }) => {
                    Problem::usage(format!("`{code}` is called `{now}` now"))
                        .fix(format!("`jigless why {now}` explains it"))
                }
                None => Problem::usage(format!("there is no code `{code}`")).fix(
                    match nearest(code, codes::all()) {
                        Some(near) => format!("did you mean `{near}`?"),
                        None => "`jigless why` lists all codes".to_owned(),
                    },
                ),
            };
            console::problem(&problem);
            return problem.exit;
        }
    }
    Exit::Done
}

fn list() -> Styled {
    let mut text = Styled::default();
    for group in Group::ALL {
        text.add_in(BOLD, group.name());
        text.add("\n");
        for kind in CHECKS.iter().filter(|kind| kind.group == group) {
            text.add(&format!("  {:<26} {}\n", kind.code, kind.name));
        }
        text.add("\n");
    }
    text.add_in(BOLD, "Faults of plans, formats and options");
    text.add("\n");
    let mut faults: Vec<&CodeKind> = codes::faults().collect();
    faults.sort_by_key(|kind| kind.code);
    for kind in faults {
        text.add(&format!("  {:<26} {}\n", kind.code, kind.name));
    }
    text
}

fn check(kind: &CheckKind, columns: usize) -> Styled {
    let mut text = head(kind.code.as_str(), kind.severity, kind.name, columns);
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
            paragraph(&mut text, title, words, columns);
        }
    }
    example(&mut text, kind.example);
    let limit = if kind.limit.is_some() {
        ", limit: ..."
    } else {
        ""
    };
    let code = kind.code;
    let set = format!("`checks: {{{code}: {{severity: note{limit}}}}}`");
    paragraph(&mut text, "Set it for a plan", &set, columns);
    let accept = format!(
        "`accept: {{{code}: the reason}}` on the feature, part, stock or entry of `usage`; the reason is kept with the plan"
    );
    paragraph(&mut text, "Accept it at its place", &accept, columns);
    text
}

fn fault(kind: &CodeKind, columns: usize) -> Styled {
    let mut text = head(kind.code.as_str(), kind.severity, kind.name, columns);
    paragraph(&mut text, "Why", kind.explanation, columns);
    if !kind.example.is_empty() {
        example(&mut text, kind.example);
    }
    text
}

fn head(code: &str, severity: Severity, name: &str, columns: usize) -> Styled {
    let mut text = Styled::default();
    text.add_in(BOLD, code);
    text.add(&format!(" ({})\n", word(severity)));
    text.add_paragraph("  ", name, columns);
    text
}

fn title(text: &mut Styled, title: &str) {
    text.add("\n");
    text.add_in(BOLD, title);
    text.add("\n");
}

fn paragraph(text: &mut Styled, name: &str, words: &str, columns: usize) {
    title(text, name);
    text.add_paragraph("  ", words, columns);
}

/// Lines of a plan keep their breaks.
fn example(text: &mut Styled, lines: &str) {
    title(text, "Found at fault");
    for line in lines.lines() {
        text.add(&format!("  {line}\n"));
    }
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}
