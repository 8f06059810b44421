//! The README says what the program knows: its tables of exporters and features are made from the registries.
//!
//! Run with `JIGLESS_ACCEPT=1` to write the tables anew.

use std::fmt::Write as _;

use jigless_core::build::BUILDERS;
use jigless_core::check::{CHECKS, Group, LimitUnit, codes};
use jigless_core::diag::Severity;
use jigless_core::feature::FEATURES;
use jigless_core::joint::JOINTS;
use jigless_core::resolve::{Field, Need, Shape};
use jigless_core::units::decimal;
use jigless_core::usage::USAGE;
use jigless_exporters::EXPORTERS;

fn exporters() -> String {
    let mut text = String::new();
    for exporter in EXPORTERS {
        let _ = writeln!(
            text,
            "### `{}`\n\nMakes {}.\n",
            exporter.id(),
            exporter.summary()
        );
        let options = exporter.options();
        if options.is_empty() {
            text.push_str("It has no options.\n\n");
            continue;
        }
        text.push_str("| option | accepts | default | what it does |\n|---|---|---|---|\n");
        for option in options {
            let _ = writeln!(
                text,
                "| `{}` | {} | {} | {} |",
                option.key,
                option.accepts.replace('|', "\\|"),
                option.default,
                option.help.replace('|', "\\|")
            );
        }
        text.push('\n');
    }
    text
}

fn keys(fields: &[Field], within: &str, text: &mut String) {
    for field in fields {
        let name = format!("{within}{}", field.key);
        let need = match field.need {
            Need::Required => "required".to_owned(),
            Need::Optional => "optional".to_owned(),
            Need::Default(default) => format!("default `{default}`"),
        };
        let _ = writeln!(
            text,
            "| `{name}` | {} | {need} |",
            field.meaning().replace('|', "\\|")
        );
        if let Shape::Map(inner) | Shape::Maps(inner) = field.shape {
            keys(inner, &format!("{name}."), text);
        }
    }
}

fn table(key: &str, summary: &str, fields: &[Field], text: &mut String) {
    let _ = writeln!(
        text,
        "**`{key}`**: {summary}.\n\n| key | meaning | |\n|---|---|---|"
    );
    keys(fields, "", text);
    text.push('\n');
}

fn features() -> String {
    let mut text = String::new();
    for kind in FEATURES {
        table(kind.key, kind.summary, kind.fields, &mut text);
    }
    text
}

fn builders() -> String {
    let mut text = String::new();
    for kind in BUILDERS {
        table(kind.key, kind.summary, kind.fields, &mut text);
    }
    text
}

fn joints() -> String {
    let mut text = String::new();
    for kind in JOINTS {
        table(kind.key, kind.summary, kind.fields, &mut text);
    }
    text
}

fn usage() -> String {
    let mut text = String::new();
    for kind in USAGE {
        table(kind.key, kind.summary, kind.fields, &mut text);
    }
    text
}

/// Every check, and after them every other code.
fn checks() -> String {
    let cell = |text: &str| text.replace('|', "\\|");
    let mut text = String::new();
    for group in Group::ALL {
        let _ = writeln!(
            text,
            "### {}\n\n| code | severity | what it finds | limit | source |\n|---|---|---|---|---|",
            group.name()
        );
        for kind in CHECKS.iter().filter(|kind| kind.group == group) {
            let limit = kind.limit.as_ref().map_or_else(String::new, |limit| {
                let unit = match limit.unit {
                    LimitUnit::Millimetres => " mm",
                    LimitUnit::Number => "",
                };
                format!("{}{unit}: {}", decimal(limit.default, 3), limit.help)
            });
            let formula = kind.formula.map_or_else(String::new, |f| format!(" ({f})"));
            let _ = writeln!(
                text,
                "| `{}` | {} | {}{} | {} | {} |",
                kind.code,
                word(kind.severity),
                cell(kind.name),
                cell(&formula),
                cell(&limit),
                cell(&kind.source_in_words())
            );
        }
        text.push('\n');
    }
    text.push_str("### Faults of plans and formats\n\nThese cannot be set or accepted.\n\n| code | severity | what it is |\n|---|---|---|\n");
    let mut faults: Vec<_> = codes::CODES
        .iter()
        .chain(jigless_exporters::CODES)
        .collect();
    faults.sort_by_key(|kind| kind.code);
    for kind in faults {
        let _ = writeln!(
            text,
            "| `{}` | {} | {} |",
            kind.code,
            word(kind.severity),
            cell(kind.name)
        );
    }
    text.push('\n');
    text
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}

#[test]
fn the_readme_lists_what_there_is() {
    let path = jigless_tests::fixtures::workspace().join("README.md");
    let readme = std::fs::read_to_string(&path).expect("README.md is there");
    let mut made = readme.clone();
    for (name, content) in [
        ("exporters", exporters()),
        ("features", features()),
        ("builders", builders()),
        ("joints", joints()),
        ("usage", usage()),
        ("checks", checks()),
    ] {
        let (start, end) = (
            format!("<!-- {name} -->\n"),
            format!("<!-- end of {name} -->"),
        );
        let from = made
            .find(&start)
            .unwrap_or_else(|| panic!("README.md has no {start}"))
            + start.len();
        let to = made
            .find(&end)
            .unwrap_or_else(|| panic!("README.md has no {end}"));
        made.replace_range(from..to, &format!("\n{content}"));
    }
    if std::env::var_os("JIGLESS_ACCEPT").is_some() {
        std::fs::write(&path, &made).expect("README.md can be written");
    } else {
        assert!(
            made == readme,
            "README.md is behind the registries: run JIGLESS_ACCEPT=1 cargo test -p jigless-tests --test readme"
        );
    }
}

#[test]
fn the_plan_of_the_readme_has_no_finding() {
    let path = jigless_tests::fixtures::workspace().join("README.md");
    let readme = std::fs::read_to_string(&path).expect("README.md is there");
    let plans: Vec<&str> = readme
        .split("```yaml\n")
        .skip(1)
        .filter_map(|rest| rest.split("```").next())
        .filter(|block| block.starts_with("jigless: 1"))
        .collect();
    assert!(!plans.is_empty(), "README.md shows no plan");
    for plan in plans {
        let compiled = jigless_core::compile(
            "README.md",
            plan.as_bytes(),
            &jigless_core::load::NoIncludes,
        );
        let found: Vec<_> = compiled.findings.iter().map(|f| &f.message).collect();
        assert!(found.is_empty(), "{found:?}");
    }
}
