//! Screws that come out of the far side, or hardly reach it.

use crate::diag::{Finding, Findings};
use crate::plan::Plan;

/// The least that a thread should hold in, in millimetres: what a 14 mm false front takes of a screw that does not come
/// out of it. Common practice, no source.
const LEAST: f64 = 6.0;

pub(super) fn check(plan: &Plan, findings: &mut Findings) {
    let unit = plan.units;
    for joint in &plan.joints {
        for screw in &joint.screws {
            let Some(part) = plan.part(&screw.into) else {
                continue;
            };
            let bodies = part.bodies();
            let length = |from: [f64; 3], to: [f64; 3]| {
                (0..3)
                    .map(|i| (to[i] - from[i]).powi(2))
                    .sum::<f64>()
                    .sqrt()
            };
            // The piece that the screw is driven into is the one that it passes deepest.
            let held = bodies
                .iter()
                .filter_map(|body| {
                    let bounds = body.bounds();
                    let axis = (0..3).max_by(|a, b| {
                        let along = |i: usize| (screw.tip[i] - screw.head[i]).abs();
                        along(*a).total_cmp(&along(*b))
                    })?;
                    let beside = (0..3).any(|other| {
                        other != axis
                            && !(bounds.min[other]..=bounds.max[other]).contains(&screw.head[other])
                    });
                    let (low, high) = (bounds.min[axis], bounds.max[axis]);
                    let (from, to) = (
                        screw.head[axis].min(screw.tip[axis]),
                        screw.head[axis].max(screw.tip[axis]),
                    );
                    let held = to.min(high) - from.max(low);
                    let forward = screw.tip[axis] > screw.head[axis];
                    let out = if forward {
                        screw.tip[axis] - high
                    } else {
                        low - screw.tip[axis]
                    };
                    (!beside && held > 0.0).then_some((held, out))
                })
                .max_by(|a, b| a.0.total_cmp(&b.0));
            let whole = unit.show(length(screw.head, screw.tip));
            let (through, into) = (&screw.through, &screw.into);
            match held {
                Some((_, out)) if out > 0.0 => findings.push(
                    Finding::error(
                        "screw-comes-out",
                        joint.span,
                        format!(
                            "a screw {whole} long from `{through}` comes {} out of `{into}`",
                            unit.show(out)
                        ),
                    )
                    .fix(format!(
                        "use one that is at least {} shorter",
                        unit.show(out + 1.0)
                    )),
                ),
                Some((held, _)) if held < LEAST => findings.push(
                    Finding::warning(
                        "screw-too-short",
                        joint.span,
                        format!(
                            "a screw from `{through}` reaches only {} into `{into}`",
                            unit.show(held)
                        ),
                    )
                    .fix(format!(
                        "use one that is {} longer",
                        unit.show(LEAST - held)
                    )),
                ),
                Some(_) => {}
                None => findings.push(
                    Finding::error(
                        "screw-comes-out",
                        joint.span,
                        format!("a screw from `{through}` misses `{into}`"),
                    )
                    .fix("move the screws to where the two parts meet"),
                ),
            }
        }
    }
}
