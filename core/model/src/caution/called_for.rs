//! Which cautions the work on given parts calls for, by what is in the reader's hand.

use std::collections::BTreeSet;

use super::table::{Caution, DEFER, DEFER_SHORT};
use crate::finish::FinishKind;
use crate::geom::LENGTH_TOLERANCE;
use crate::hardware::FittingKind;
use crate::operation::{ContourSide, Work};
use crate::plan::{CutBy, Plan, Stock, StockKind};
use crate::usage::Usage;
use crate::workpiece::Workpiece;

/// What the reader does with the sheet, file or list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Medium {
    /// Works parts by hand, from a template or a drawing of them.
    ByHand,
    /// Has a router on its table cut them, and does by hand what it leaves.
    Router,
    /// Has a laser cut them, and does by hand what it leaves.
    Laser,
    /// Saws sheets and boards apart.
    Saw,
    /// Buys and cuts parts, each as its stock is cut.
    Parts,
    /// Buys and fits hardware and glue.
    Hardware,
    /// Makes the whole, from the sheet to the finished piece in its place.
    Whole,
}

/// Every caution that the work on these parts calls for, in the order of the table.
pub fn called_for(plan: &Plan, workpieces: &[Workpiece], medium: Medium) -> Vec<Caution> {
    let mut found = BTreeSet::from([Caution::Work]);
    match medium {
        Medium::ByHand => by_hand(workpieces, None, &mut found),
        Medium::Router => {
            found.extend([Caution::Router, Caution::Lifting]);
            by_hand(workpieces, Some(CutBy::Router), &mut found);
        }
        Medium::Laser => {
            found.insert(Caution::Laser);
            by_hand(workpieces, Some(CutBy::Laser), &mut found);
        }
        Medium::Saw => found.extend([Caution::Saw, Caution::Lifting]),
        Medium::Parts => cutting(workpieces, &mut found),
        Medium::Hardware => fitting(plan, workpieces, &mut found),
        Medium::Whole => {
            cutting(workpieces, &mut found);
            by_hand(workpieces, None, &mut found);
            fitting(plan, workpieces, &mut found);
            standing(plan, &mut found);
            found.extend([Caution::Sanding, Caution::Finish, Caution::Lifting]);
        }
    }
    if medium != Medium::Hardware {
        for workpiece in workpieces {
            found.extend(of_material(&workpiece.part.stock));
        }
    }
    found.into_iter().collect()
}

/// Cautions as sentences, what defers to others first: for a page or a list.
pub fn sentences(cautions: &[Caution]) -> Vec<&'static str> {
    let texts = cautions.iter().map(|caution| caution.text());
    std::iter::once(DEFER).chain(texts).collect()
}

/// The same in a line each, where there is little room: beside a drawing, in a cell of a table, in a machine file.
pub fn short_lines(cautions: &[Caution]) -> Vec<&'static str> {
    let texts = cautions.iter().map(|caution| caution.short());
    std::iter::once(DEFER_SHORT).chain(texts).collect()
}

/// How the stock of each part is cut, and that its sheets are heavy.
fn cutting(workpieces: &[Workpiece], found: &mut BTreeSet<Caution>) {
    for workpiece in workpieces {
        match workpiece.part.stock.cut_by {
            Some(CutBy::Laser) => found.extend([Caution::Laser]),
            Some(CutBy::Router) => found.extend([Caution::Router, Caution::Lifting]),
            Some(CutBy::Saw) | None => found.extend([Caution::Saw, Caution::Lifting]),
        }
    }
}

/// What is drilled, routed and sawn by hand; after a machine, what that leaves.
fn by_hand(workpieces: &[Workpiece], after: Option<CutBy>, found: &mut BTreeSet<Caution>) {
    for workpiece in workpieces {
        for operation in &workpiece.operations {
            found.extend(match &operation.work {
                Work::EdgeDrill(_) | Work::AngledBore(_) => Some(Caution::Drill),
                Work::Drill(_) => (after != Some(CutBy::Router)).then_some(Caution::Drill),
                Work::MillArea(_) => Some(Caution::Router),
                Work::Bevel(_) => Some(Caution::Saw),
                Work::CutContour(cut) => {
                    let part = &workpiece.part;
                    let off_square = (cut.path.area().abs() - part.width * part.height).abs()
                        > LENGTH_TOLERANCE * (part.width + part.height);
                    let is_sawn = cut.side == ContourSide::Inner || off_square;
                    (after.is_none() && is_sawn).then_some(Caution::Saw)
                }
                Work::Mark(_) => None,
            });
        }
    }
}

/// Screws are driven and joints glued.
fn fitting(plan: &Plan, workpieces: &[Workpiece], found: &mut BTreeSet<Caution>) {
    if plan.joints.iter().any(|joint| joint.glue.is_some()) {
        found.insert(Caution::Glue);
    }
    let of_work = workpieces.iter().flat_map(|w| &w.fittings);
    let of_parts = workpieces.iter().flat_map(|w| &w.part.fittings);
    for fitting in of_work.chain(of_parts) {
        found.extend(of_fitting(fitting.kind));
    }
}

/// The piece stands in its place, and what moves in it is pulled.
fn standing(plan: &Plan, found: &mut BTreeSet<Caution>) {
    let stands = plan.usage.iter().filter_map(|entry| match &entry.what {
        Usage::Freestanding(stands) => Some(stands),
        _ => None,
    });
    for stands in stands {
        found.insert(Caution::TipOver);
        if stands.anchored {
            found.insert(Caution::Wall);
        }
    }
    if plan.parts.iter().any(|part| part.motion.is_some()) {
        found.insert(Caution::TipOver);
    }
}

/// What it takes to fit a piece of hardware, and what it brings.
pub const fn of_fitting(kind: FittingKind) -> &'static [Caution] {
    match kind {
        FittingKind::Caster => &[Caution::Drill, Caution::TipOver, Caution::Casters],
        FittingKind::WallAnchor => &[Caution::Drill, Caution::TipOver, Caution::Wall],
        FittingKind::Runner => &[Caution::Drill, Caution::TipOver],
        _ => &[Caution::Drill],
    }
}

/// What a finish can do while it is put on and dries, its rags too.
pub const fn of_finish(kind: FinishKind) -> &'static [Caution] {
    match kind {
        FinishKind::Bare => &[],
        _ => &[Caution::Finish],
    }
}

/// What the material itself can do.
pub fn of_material(stock: &Stock) -> Option<Caution> {
    match stock.kind {
        StockKind::Mdf | StockKind::Particleboard | StockKind::Osb | StockKind::Hardboard => {
            Some(Caution::GluedBoard)
        }
        StockKind::Pvc | StockKind::Acrylic => Some(Caution::Plastic),
        StockKind::Card => Some(Caution::Knife),
        StockKind::Plywood | StockKind::Solid | StockKind::Other => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_defers_to_others_comes_first() {
        let cautions = [Caution::Work, Caution::Saw];
        assert_eq!(sentences(&cautions)[0], DEFER);
        assert_eq!(short_lines(&cautions)[0], DEFER_SHORT);
        for words in ["maker's manual", "local codes", "licensed trade"] {
            assert!(
                DEFER.contains(words) && DEFER_SHORT.contains(words),
                "{words}"
            );
        }
    }

    #[test]
    fn every_caution_has_a_line_that_fits_beside_a_drawing() {
        for caution in Caution::ALL {
            assert!(caution.short().len() <= 96, "{}", caution.short());
            assert!(caution.text().len() > caution.short().len() / 2);
        }
    }
}
