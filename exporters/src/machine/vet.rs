//! What machines cannot make of a plan, reported for any machine.

use jigless_model::diag::{Finding, Findings, Severity};
use jigless_model::export::ExportInput;
use jigless_model::sheets::{Settings, fits_some_sheet};

use super::hand_work;
use crate::codes;
use crate::stock_sizes;

/// Reports parts that no sheet can hold.
pub(super) fn sheets(input: &ExportInput, settings: Option<&Settings>, findings: &mut Findings) {
    let Some(settings) = settings else { return };
    let unit = input.plan.units;
    if settings.bed.is_none() {
        stock_sizes::ask_for(input, |stock| !stock.sheets.is_empty(), findings);
    }
    for workpiece in input.workpieces {
        let part = &workpiece.part;
        if settings.bed.is_none() && part.stock.sheets.is_empty() {
            continue;
        }
        if !fits_some_sheet(workpiece, settings) {
            let message = format!(
                "part `{}`, {} by {}, fits no sheet of `{}` with a margin of {} and its grain kept",
                part.id,
                unit.show(part.width),
                unit.show(part.height),
                part.stock.id,
                unit.show(settings.margin)
            );
            findings.push(
                Finding::error(codes::PART_LARGER_THAN_SHEET, part.span, message)
                    .fix("take a larger sheet, a smaller margin, or do not arrange this part"),
            );
        }
    }
}

/// Says of each part how much of its work is left to the hand. Both machines say the same, so that it is reported once.
pub(super) fn hand_work(input: &ExportInput) -> Findings {
    let mut findings = Findings::new();
    for workpiece in input.workpieces {
        let operations = &workpiece.operations;
        let count = operations
            .iter()
            .filter(|operation| hand_work::is_hand_work(operation))
            .count();
        if count == 0 {
            continue;
        }
        let pieces = if count == 1 { "piece" } else { "pieces" };
        let message = format!(
            "part `{}`: {count} {pieces} of work (edge holes, angled bores, bevels) on layer HAND_WORK only",
            workpiece.part.id
        );
        let finding = Finding::new(
            codes::WORK_NOT_MACHINED,
            Severity::Note,
            Some(workpiece.part.span),
            message,
        )
        .fix("make them by hand with the part's template");
        findings.push(finding);
    }
    findings
}
