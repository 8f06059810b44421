//! Which plans a machine is for, by the stock of their parts.

use jigless_model::plan::{CutBy, Plan, Stock, StockKind};

/// The thickest stock that a laser is taken to cut where the plan does not say, in millimetres: a quarter of an inch and
/// what it may measure more. Common practice, no source.
const MOST_FOR_LASER: f64 = 6.5;

/// Whether a plan is for a laser: it says so of some stock that its parts are of, or all of it is thin enough, of a kind
/// that a laser cuts, and not for another machine.
pub(super) fn laser(plan: &Plan) -> bool {
    let mut all = true;
    for stock in used(plan) {
        match stock.cut_by {
            Some(CutBy::Laser) => return true,
            Some(CutBy::Saw | CutBy::Router) => all = false,
            None => all &= is_cut_by_laser(stock),
        }
    }
    all
}

/// Whether a plan is for a router: some stock that its parts are of is sheet goods, and not for another machine.
pub(super) fn router(plan: &Plan) -> bool {
    used(plan).any(|stock| match stock.cut_by {
        Some(CutBy::Router) => true,
        Some(CutBy::Saw | CutBy::Laser) => false,
        None => is_sheet_goods(stock.kind),
    })
}

/// Whether the plan says of some stock that its parts are of that a router cuts it.
pub(super) fn says_router(plan: &Plan) -> bool {
    used(plan).any(|stock| stock.cut_by == Some(CutBy::Router))
}

fn used(plan: &Plan) -> impl Iterator<Item = &Stock> {
    plan.parts.iter().map(|part| &*part.stock)
}

fn is_cut_by_laser(stock: &Stock) -> bool {
    let kind = match stock.kind {
        StockKind::Plywood
        | StockKind::Mdf
        | StockKind::Hardboard
        | StockKind::Solid
        | StockKind::Acrylic
        | StockKind::Card => true,
        StockKind::Particleboard | StockKind::Osb | StockKind::Pvc | StockKind::Other => false,
    };
    kind && stock.thickness <= MOST_FOR_LASER
}

fn is_sheet_goods(kind: StockKind) -> bool {
    match kind {
        StockKind::Plywood
        | StockKind::Mdf
        | StockKind::Particleboard
        | StockKind::Osb
        | StockKind::Hardboard
        | StockKind::Acrylic
        | StockKind::Pvc
        | StockKind::Other => true,
        StockKind::Solid | StockKind::Card => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_core::load::NoIncludes;

    fn plan(stock: &[&str]) -> Plan {
        let lines = |line: &dyn Fn(usize, &str) -> String| -> String {
            stock
                .iter()
                .enumerate()
                .map(|(index, keys)| line(index, keys))
                .collect()
        };
        // Stock that no part is of does not count.
        let text = format!(
            "jigless: 1\ntitle: t\nunits: mm\nstock:\n  spare: {{thickness: 40, kind: osb}}\n{}parts:\n{}",
            lines(&|index, keys| format!("  s{index}: {{{keys}}}\n")),
            lines(&|index, _| format!("  p{index}: {{stock: s{index}, width: 90, height: 60}}\n")),
        );
        let compiled = jigless_core::compile("plan.yaml", text.as_bytes(), &NoIncludes);
        compiled.result.unwrap_or_else(|| panic!("{text}")).0
    }

    #[test]
    fn thickness_kind_and_what_the_plan_says_decide() {
        for (stock, for_laser, for_router) in [
            (&["thickness: 3, kind: plywood"][..], true, true),
            (&["thickness: 6.5, kind: acrylic"], true, true),
            (&["thickness: 6.6, kind: plywood"], false, true),
            (&["thickness: 18, kind: plywood"], false, true),
            (
                &[
                    "thickness: 18, kind: plywood",
                    "thickness: 3, kind: plywood",
                ],
                false,
                true,
            ),
            (&["thickness: 18, kind: plywood, cut_by: saw"], false, false),
            (
                &[
                    "thickness: 18, kind: plywood, cut_by: saw",
                    "thickness: 3, kind: plywood, cut_by: laser",
                ],
                true,
                false,
            ),
            (
                &["thickness: 3, kind: plywood, cut_by: router"],
                false,
                true,
            ),
            (&["thickness: 3, kind: pvc"], false, true),
            (&["thickness: 3, kind: other"], false, true),
            (&["thickness: 20, kind: solid"], false, false),
            (&["thickness: 1, kind: card"], true, false),
        ] {
            let plan = plan(stock);
            assert_eq!(
                (laser(&plan), router(&plan)),
                (for_laser, for_router),
                "{stock:?}"
            );
        }
    }
}
