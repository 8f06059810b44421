//! Holes beside the material, or over its edge.

use crate::diag::{Finding, Findings};
use crate::geom::{LENGTH_TOLERANCE, Region};
use crate::operation::{Mouth, Work};
use crate::plan::Plan;
use crate::workpiece::Workpiece;

pub(super) fn check(plan: &Plan, workpiece: &Workpiece, findings: &mut Findings) {
    let region = workpiece.region();
    let unit = plan.units;
    for operation in &workpiece.operations {
        let Work::Drill(drill) = &operation.work else {
            continue;
        };
        let span = operation.origin.span;
        let radius = drill.mouth.map_or(drill.diameter, Mouth::diameter) / 2.0;
        let to_contour = region.distance_to_contour(drill.centre);
        if !region.contains(drill.centre) {
            findings.push(
                Finding::error(
                    "hole-outside-part",
                    span,
                    format!(
                        "the centre of hole {} at {}, {} is not on the material of `{}`",
                        drill.id,
                        unit.show(drill.centre.x),
                        unit.show(drill.centre.y),
                        workpiece.part.id
                    ),
                )
                .fix(where_to(&region, workpiece, unit)),
            );
        } else if to_contour + LENGTH_TOLERANCE < radius {
            findings.push(
                Finding::warning(
                    "hole-breaks-edge",
                    span,
                    format!(
                        "hole {} of {} breaks out: its centre is only {} from the nearest edge",
                        drill.id,
                        unit.show(2.0 * radius),
                        unit.show(to_contour)
                    ),
                )
                .fix(format!(
                    "move it {} away from the edge",
                    unit.show(radius - to_contour)
                )),
            );
        }
    }
}

fn where_to(region: &Region, workpiece: &Workpiece, unit: crate::units::Unit) -> String {
    if region.inner.is_empty() && region.outer.vertices.len() == 4 {
        format!(
            "keep it within {} by {}",
            unit.show(workpiece.part.width),
            unit.show(workpiece.part.height)
        )
    } else {
        "check its place against the cutouts and the outline".to_owned()
    }
}
