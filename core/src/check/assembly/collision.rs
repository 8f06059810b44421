//! Parts that run into each other.

use super::TOLERANCE;
use super::solid::{Solid, joined, shared};
use crate::diag::{Finding, Findings};
use crate::plan::Plan;

pub(super) fn check(plan: &Plan, solids: &[Solid], findings: &mut Findings) {
    let unit = plan.units;
    for (index, one) in solids.iter().enumerate() {
        for other in &solids[index + 1..] {
            if !one.bounds.overlaps(other.bounds, TOLERANCE) {
                continue;
            }
            let both = |point| one.contains(point) && other.contains(point);
            let breaks = joined(one.breaks(), &other.breaks());
            let Some(cell) = shared(one.bounds.common(other.bounds), &breaks, both, TOLERANCE)
            else {
                continue;
            };
            let (part, with) = (&one.workpiece.part, &other.workpiece.part);
            let sizes = [0, 1, 2].map(|axis| unit.show(cell.size(axis)));
            findings.push(
                Finding::error(
                    "parts-collide",
                    part.span,
                    format!(
                        "`{}` and `{}` are both in a space {} wide, {} high and {} deep at {}, {}, {} of the whole",
                        part.id,
                        with.id,
                        sizes[0],
                        sizes[1],
                        sizes[2],
                        unit.show(cell.min[0]),
                        unit.show(cell.min[1]),
                        unit.show(cell.min[2])
                    ),
                )
                .label(with.span, "the other part")
                .fix("move or shorten one of them, or join them with a housing, groove, rebate or half lap"),
            );
        }
    }
}
