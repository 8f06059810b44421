//! Evenly repeated holes, in a row or a grid.

use jigless_model::diag::Finding;
use jigless_model::geom::{LENGTH_TOLERANCE, Point};
use jigless_model::source::Spanned;

use super::FeatureKind;
use super::common::Label;
use super::hole::BoreKeys;
use crate::codes;
use crate::lower::Lowering;
use crate::resolve::{Context, Fields, KeySet, MAX_REPEATS, Map, Place, Repeats, Step};

crate::fields! {
    struct RowKeys {
        /// centre of the first hole
        first: Place,
        /// from each hole to the next
        step: Spanned<Step>,
        /// how many holes in a row
        count: Repeats,
        /// repeats the row, which makes a grid
        rows: Option<Map<RowsKeys>>,
        bore: BoreKeys,
        _label: Label,
    }
}

crate::fields! {
    struct RowsKeys {
        /// from each row to the next
        step: Spanned<Step>,
        /// how many rows
        count: Repeats,
    }
}

pub(super) static KIND: FeatureKind = FeatureKind {
    key: "hole_row",
    summary: "evenly repeated holes, in a row or a grid",
    fields: RowKeys::FIELDS,
    make,
};

fn make(fields: &Fields, out: &mut Lowering) -> Option<()> {
    let keys = RowKeys::read(fields)?;
    let context = fields.context();
    let columns = leads_on(context, keys.step, keys.count);
    let rows = match &keys.rows {
        Some(rows) => leads_on(context, rows.step, rows.count),
        None => Some(()),
    };
    columns.and(rows)?;
    let (up, count) = keys
        .rows
        .map_or((Point::default(), 1), |rows| (rows.step.value, rows.count));
    let total = u64::from(keys.count) * u64::from(count);
    if total > u64::from(MAX_REPEATS) {
        context.find(
            Finding::error(
                codes::TOO_MANY_REPEATS,
                fields.key_span("rows"),
                format!("this grid has {total} holes; one feature may have {MAX_REPEATS}"),
            )
            .fix("check the counts"),
        );
        return None;
    }
    let first = keys.first.point(&out.frame());
    let grid = (0..count).flat_map(|row| (0..keys.count).map(move |hole| (row, hole)));
    let centres: Vec<_> = grid
        .map(|(row, hole)| {
            let at = first + keys.step.value * f64::from(hole) + up * f64::from(row);
            Spanned::new(at, keys.first.span)
        })
        .collect();
    keys.bore.drill(fields, out, &centres)
}

/// Whether a step leads from each of several to the next; reports if it does not.
fn leads_on(context: Context, step: Spanned<Point>, count: u32) -> Option<()> {
    if count <= 1 || step.value.length() >= LENGTH_TOLERANCE {
        return Some(());
    }
    context.find(
        Finding::error(
            codes::OUT_OF_RANGE,
            step.span,
            "the step leads nowhere: all holes would be one",
        )
        .fix("write how far the next one is: `[0, 32]`"),
    );
    None
}
