//! What a drawing cannot show, reported before anything is written.

use jigless_model::diag::{Finding, Findings, Severity};
use jigless_model::export::ExportInput;
use jigless_model::operation::Work;

use super::font;
use crate::codes;

/// Reports words with characters that no typeface on the paper has.
pub(crate) fn words(input: &ExportInput, findings: &mut Findings) {
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
            Finding::new(
                codes::LETTER_NOT_IN_TYPEFACE,
                Severity::Warning,
                span,
                message,
            )
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
}
