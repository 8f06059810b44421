//! Parts that no sheet at hand holds.

use jigless_model::code::Code;
use jigless_model::diag::Severity;
use jigless_model::geom::LENGTH_TOLERANCE;
use jigless_model::plan::{Grain, StockSheet};
use jigless_model::provenance::Source;

use crate::report::Owner;
use crate::{CheckKind, Group, Report, Scene};

pub(crate) static KIND: CheckKind = CheckKind {
    code: Code::declare("part-fits-no-sheet"),
    name: "a part that fits no sheet at hand in its grain",
    group: Group::Geometry,
    severity: Severity::Error,
    measures: "width and height of the part against every sheet of its stock, turned only where the grain lets it; \
        the grain of a sheet runs along its height",
    limit: None,
    formula: None,
    source: &[
        Source::Elementary,
        Source::Note(
            "sheets may be 1.6 mm short (PS 1: +0, -1/16 in, seen second-hand), so measure a part that just fits",
        ),
    ],
    explanation: "The part cannot be cut in one piece. List a larger sheet, turn the grain if the look allows it, or \
        make the part of two.",
    example: "sheets: [{width: 1220, height: 1220}] # and a part 1500 wide",
    run,
};

fn run(scene: &Scene, report: &mut Report) {
    for piece in scene.pieces() {
        let part = piece.part();
        if part.stock.sheets.is_empty() {
            continue;
        }
        let upright =
            |sheet: &StockSheet| lack(part.width, sheet.width).max(lack(part.height, sheet.height));
        let turned =
            |sheet: &StockSheet| lack(part.width, sheet.height).max(lack(part.height, sheet.width));
        let lacks = |sheet: &StockSheet| match part.grain {
            Grain::Height => upright(sheet),
            Grain::Width => turned(sheet),
            Grain::None => upright(sheet).min(turned(sheet)),
        };
        let least = part
            .stock
            .sheets
            .iter()
            .map(lacks)
            .fold(f64::INFINITY, f64::min);
        if least <= LENGTH_TOLERANCE {
            continue;
        }
        let without_grain =
            |sheet: &StockSheet| upright(sheet).min(turned(sheet)) <= LENGTH_TOLERANCE;
        let fix = if part.stock.sheets.iter().any(without_grain) {
            format!(
                "it fits with the grain the other way: change `grain`, or list a sheet {} larger",
                report.show(least)
            )
        } else {
            format!(
                "list a larger sheet, or make the part {} smaller",
                report.show(least)
            )
        };
        let finding = report
            .finding(
                part.span,
                format!(
                    "`{}`, {} by {}, is {} too large for every sheet of `{}` with its grain",
                    part.id,
                    report.show(part.width),
                    report.show(part.height),
                    report.show(least),
                    part.stock.id
                ),
            )
            .label(part.stock.span, "the stock and its sheets")
            .fix(fix);
        report.add(&[Owner::Part(piece.part())], finding);
    }
}

/// How much of a side a sheet lacks; 0 or less where it is long enough.
fn lack(side: f64, sheet: f64) -> f64 {
    side - sheet
}
