//! Drawers that cannot come out and doors that strike.

use super::TOLERANCE;
use super::solid::{Solid, shared};
use crate::assembly::Motion;
use crate::diag::{Finding, Findings};
use crate::plan::Plan;
use crate::side::Edge;

pub(super) fn check(plan: &Plan, solids: &[Solid], findings: &mut Findings) {
    for solid in solids {
        match solid.workpiece.part.motion {
            Some(Motion::Slides) => slides(solid, solids, findings),
            Some(Motion::Swings(edge)) => swings(plan, solid, edge, solids, findings),
            None => {}
        }
    }
}

/// Whether two pieces belong to one group.
fn together(one: &Solid, other: &Solid) -> bool {
    let (one, other) = (&one.workpiece.part, &other.workpiece.part);
    one.id == other.id || one.group.is_some() && one.group == other.group
}

/// A drawer is drawn out by its whole length; doors before it are open then.
fn slides(front: &Solid, solids: &[Solid], findings: &mut Findings) {
    let members: Vec<&Solid> = solids
        .iter()
        .filter(|other| together(front, other))
        .collect();
    let travel = members
        .iter()
        .map(|member| member.bounds.size(2))
        .fold(0.0, f64::max);
    for member in &members {
        let mut path = member.bounds;
        path.max[2] += travel;
        for other in solids {
            let part = &other.workpiece.part;
            let opens = matches!(part.motion, Some(Motion::Swings(_)));
            if together(front, other) || opens || !path.overlaps(other.bounds, TOLERANCE) {
                continue;
            }
            let within = path.common(other.bounds);
            if shared(
                within,
                &other.breaks(),
                |point| other.contains(point),
                TOLERANCE,
            )
            .is_none()
            {
                continue;
            }
            let own = &member.workpiece.part;
            findings.push(
                Finding::warning(
                    "drawer-blocked",
                    own.span,
                    format!("`{}` cannot come out: `{}` is in its way", own.id, part.id),
                )
                .label(part.span, "in the way")
                .fix("make it smaller or move what is in its way"),
            );
        }
    }
}

/// The corner of a door that turns about its hinge edge reaches farther than its width: by the diagonal of width and
/// thickness.
fn swings(plan: &Plan, door: &Solid, edge: Edge, solids: &[Solid], findings: &mut Findings) {
    let (width, thick) = (door.bounds.size(0), door.bounds.size(2));
    let needed = width.hypot(thick) - width;
    let mut beside = door.bounds;
    if edge == Edge::Left {
        (beside.min[0], beside.max[0]) = (beside.max[0], beside.max[0] + needed);
    } else {
        (beside.min[0], beside.max[0]) = (beside.min[0] - needed, beside.min[0]);
    }
    for other in solids {
        let part = &other.workpiece.part;
        if part.motion.is_some() || !beside.overlaps(other.bounds, TOLERANCE) {
            continue;
        }
        let own = &door.workpiece.part;
        let unit = plan.units;
        findings.push(
            Finding::warning(
                "door-strikes",
                own.span,
                format!(
                    "`{}` strikes `{}` when it opens: it needs a gap of {}",
                    own.id,
                    part.id,
                    unit.show(needed)
                ),
            )
            .label(part.span, "what it strikes")
            .fix("give it a wider gap at the edge away from the hinges"),
        );
    }
}
