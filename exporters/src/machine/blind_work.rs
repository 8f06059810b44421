//! Work that leaves a floor, which a laser does not make.

use jigless_model::operation::{Depth, Operation, Work};
use jigless_model::units::Unit;

/// What in an operation leaves a floor: its name on paper, and what it is; `None` where nothing does.
pub(super) fn of(operation: &Operation, unit: Unit) -> Option<(String, String)> {
    match &operation.work {
        Work::Drill(hole) => {
            let what = match (hole.depth, hole.mouth) {
                (Depth::Blind(depth), _) => format!(
                    "hole of {}, {} deep",
                    unit.show(hole.diameter),
                    unit.show(depth)
                ),
                (Depth::Through, Some(mouth)) => {
                    format!("wider mouth of {}", unit.show(mouth.diameter()))
                }
                (Depth::Through, None) => return None,
            };
            Some((hole.id.clone(), what))
        }
        Work::MillArea(area) => {
            let what = format!("{} {} deep", area.kind.name(), unit.show(area.depth));
            Some((area.id.clone(), what))
        }
        Work::AngledBore(_)
        | Work::CutContour(_)
        | Work::Mark(_)
        | Work::EdgeDrill(_)
        | Work::Bevel(_) => None,
    }
}
