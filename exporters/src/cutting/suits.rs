//! Which plans are sawn, by the stock of their parts.

use jigless_model::plan::{CutBy, Plan, Stock, StockKind};

/// Whether a plan is for a saw: some stock that its parts are of is to be sawn, or nothing is said of it and it is wood or
/// board; and what is to be bought is known of every stock, so that all of it can be laid out.
pub(crate) fn saw(plan: &Plan) -> bool {
    let stocks = || plan.parts.iter().map(|part| &*part.stock);
    stocks().any(is_sawn) && stocks().all(has_sizes)
}

fn is_sawn(stock: &Stock) -> bool {
    match stock.cut_by {
        Some(cut_by) => cut_by == CutBy::Saw,
        None => match stock.kind {
            StockKind::Plywood
            | StockKind::Mdf
            | StockKind::Particleboard
            | StockKind::Osb
            | StockKind::Hardboard
            | StockKind::Solid => true,
            StockKind::Acrylic | StockKind::Pvc | StockKind::Card | StockKind::Other => false,
        },
    }
}

fn has_sizes(stock: &Stock) -> bool {
    !stock.sheets.is_empty() || !stock.boards.is_empty()
}
