//! What a drawing cannot show, told before anything is written.

use jigless_core::diag::{Finding, Findings, Severity};
use jigless_core::export::ExportInput;
use jigless_core::operation::Work;

use super::font;
use crate::codes;

/// An option that must lie between two numbers.
pub(crate) fn number(exporter: &str, key: &str, value: f64, range: (f64, f64)) -> Findings {
    let mut findings = Findings::new();
    if !(range.0..=range.1).contains(&value) {
        let message = format!("`{exporter}.{key}` is {value}");
        let fix = format!("give a number from {} to {}", range.0, range.1);
        findings.push(
            Finding::new(codes::OPTION_OUT_OF_RANGE, Severity::Error, None, message).fix(fix),
        );
    }
    findings
}

/// The smallest fraction of an inch must be one that is on a rule.
pub(crate) fn fractions(exporter: &str, denominator: u32) -> Findings {
    let mut findings = Findings::new();
    if ![8, 16, 32, 64].contains(&denominator) {
        let message = format!("`{exporter}.fractions` is {denominator}");
        findings.push(
            Finding::new(codes::OPTION_OUT_OF_RANGE, Severity::Error, None, message)
                .fix("give 8, 16, 32 or 64"),
        );
    }
    findings
}

/// Words with characters that no typeface on the paper has.
pub(crate) fn words(input: &ExportInput) -> Findings {
    let mut findings = Findings::new();
    let mut look_at = |words: &str, span| {
        let missing = font::missing(words);
        if missing.is_empty() {
            return;
        }
        let shown: Vec<String> = missing.iter().map(|c| format!("`{c}`")).collect();
        let message = format!(
            "the typeface of drawings has no {}; it is written as its code",
            shown.join(", ")
        );
        findings.push(
            Finding::new(codes::NO_SUCH_LETTER, Severity::Warning, span, message)
                .fix("use Latin, Greek or Cyrillic letters in words that are printed"),
        );
    };
    look_at(&input.plan.title, None);
    for workpiece in input.workpieces {
        let part = &workpiece.part;
        let span = Some(part.span);
        look_at(&part.title, span);
        look_at(&part.stock.label, Some(part.stock.span));
        for (_, label) in &part.face_labels {
            look_at(label, span);
        }
        for (_, label) in &part.edge_labels {
            look_at(label, span);
        }
        for operation in &workpiece.operations {
            let span = Some(operation.origin.span);
            look_at(operation.origin.label.as_deref().unwrap_or_default(), span);
            if let Work::Mark(mark) = &operation.work
                && let Some((_, words)) = &mark.text
            {
                look_at(words, span);
            }
        }
    }
    findings
}
