//! What machines cannot make of a plan, reported for any machine.

use jigless_model::diag::{Finding, Findings, Severity};
use jigless_model::export::ExportInput;
use jigless_model::sheets::{Settings, fits_some_sheet, lies_turned};

use super::hand_work;
use super::layout_options::{Arrange, SheetLayout};
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

/// Says which sheets or parts are larger than the bed, also where nothing is arranged.
pub(super) fn bed(input: &ExportInput, layout: &SheetLayout, findings: &mut Findings) {
    let Some([width, height]) = layout.bed else {
        return;
    };
    let unit = input.plan.units;
    let size = |width: f64, height: f64| format!("{} by {}", unit.show(width), unit.show(height));
    let bed = size(width, height);
    let fits = |size: (f64, f64)| lies_turned(size, (width, height)).is_some();
    if layout.arrange == Arrange::Stock {
        let mut reported: Vec<&str> = Vec::new();
        for workpiece in input.workpieces {
            let stock = &workpiece.part.stock;
            let large = stock.sheets.iter().find(|s| !fits((s.width, s.height)));
            let Some(sheet) = large.filter(|_| !reported.contains(&stock.id.as_str())) else {
                continue;
            };
            reported.push(&stock.id);
            let sheet = size(sheet.width, sheet.height);
            let message = format!(
                "a sheet of `{}`, {sheet}, does not fit the bed, {bed}",
                stock.id
            );
            findings.push(
                Finding::error(codes::BED_TOO_SMALL, stock.span, message)
                    .fix("arrange on the `bed`, for sheets that are cut up before"),
            );
        }
    }
    if layout.arrange == Arrange::No {
        for workpiece in input.workpieces {
            let part = &workpiece.part;
            let Some(own) = workpiece.outline().bounds() else {
                continue;
            };
            if !fits((own.width(), own.height())) {
                let own = size(own.width(), own.height());
                let message = format!("part `{}`, {own}, does not fit the bed, {bed}", part.id);
                findings.push(
                    Finding::error(codes::BED_TOO_SMALL, part.span, message)
                        .fix("make it of smaller parts, or by another machine"),
                );
            }
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
