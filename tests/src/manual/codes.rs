//! The reference of checks, and of the faults of plans and formats.

use std::fmt::Write as _;

use jigless_core::check::{CHECKS, Group, LimitUnit, codes};
use jigless_core::diag::Severity;
use jigless_core::units::decimal;

use super::keys::cell;

/// Every check, by group.
pub(super) fn checks() -> String {
    let mut text = String::new();
    for group in Group::ALL {
        let _ = writeln!(text, "## {}\n", group.name());
        for kind in CHECKS.iter().filter(|kind| kind.group == group) {
            let _ = write!(
                text,
                "### `{}`\n\n{}: {}.\n\n- Measures: {}.\n",
                kind.code,
                word(kind.severity),
                kind.name,
                without_stop(kind.measures)
            );
            if let Some(formula) = kind.formula {
                let _ = writeln!(text, "- Found when: `{formula}`.");
            }
            if let Some(limit) = &kind.limit {
                let unit = match limit.unit {
                    LimitUnit::Millimetres => " mm",
                    LimitUnit::Number => "",
                };
                let default = decimal(limit.default, 3);
                let _ = writeln!(
                    text,
                    "- Limit: {default}{unit}, {}.",
                    without_stop(limit.help)
                );
            }
            let _ = writeln!(
                text,
                "- Source: {}.\n",
                without_stop(&kind.source_in_words())
            );
            let _ = writeln!(text, "{}\n", kind.explanation);
        }
    }
    text
}

/// Every code that is not a check's.
pub(super) fn faults() -> String {
    let mut faults: Vec<_> = codes::CODES
        .iter()
        .chain(jigless_core::steps::CODES)
        .chain(jigless_exporters::CODES)
        .collect();
    faults.sort_by_key(|kind| kind.code);
    let mut text = "| code | severity | what it is |\n|---|---|---|\n".to_owned();
    for kind in faults {
        let _ = writeln!(
            text,
            "| `{}` | {} | {} |",
            kind.code,
            word(kind.severity).to_lowercase(),
            cell(kind.name)
        );
    }
    text
}

fn without_stop(text: &str) -> &str {
    text.strip_suffix('.').unwrap_or(text)
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "Error",
        Severity::Warning => "Warning",
        Severity::Note => "Note",
    }
}
