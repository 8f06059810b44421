//! Asks for the sizes of a stock that is to be laid out. No size is made up.

use jigless_model::diag::{Finding, Findings};
use jigless_model::export::ExportInput;
use jigless_model::plan::Stock;

use crate::codes;

/// Reports each stock of which there are parts and that has no size to lay them out on, by some measure.
pub(crate) fn ask_for(
    input: &ExportInput,
    has_sizes: impl Fn(&Stock) -> bool,
    findings: &mut Findings,
) {
    for stock in &input.plan.stock {
        let workpieces = input.workpieces.iter();
        let parts = workpieces
            .filter(|workpiece| workpiece.part.stock.id == stock.id)
            .count();
        if parts == 0 || has_sizes(stock) {
            continue;
        }
        let message = format!(
            "stock `{}` lists no sizes, and {parts} of its parts are to be laid out",
            stock.id
        );
        findings.push(
            Finding::error(codes::STOCK_WITHOUT_SIZES, stock.span, message).fix(
                "write what there is or can be bought: `sheets: [{width: 1220, height: 2440, count: 1}]`, or \
                 `boards: [{length: 2400}]` for what is sold by length",
            ),
        );
    }
}
