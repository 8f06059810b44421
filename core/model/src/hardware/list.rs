//! What is bought for a plan, counted from the features that take it.

use super::Fitting;
use crate::workpiece::Workpiece;

/// One line of the list of hardware.
#[derive(Debug, Clone, PartialEq)]
pub struct HardwareLine {
    /// What, and the sizes; its count is that of the whole plan.
    pub fitting: Fitting,
    /// The parts that take it and how many each of them takes over all its pieces, in the order of the plan.
    pub parts: Vec<(String, u32)>,
}

/// Everything that is bought for a plan, in order of kind, gauge and length.
pub fn count(workpieces: &[Workpiece]) -> Vec<HardwareLine> {
    let mut lines: Vec<HardwareLine> = Vec::new();
    for workpiece in workpieces {
        let part = &workpiece.part;
        for fitting in workpiece.fittings.iter().chain(&part.fittings) {
            let number = fitting.count * part.count;
            match lines.iter().position(|line| line.fitting.same_as(fitting)) {
                Some(index) => {
                    let line = &mut lines[index];
                    line.fitting.count += number;
                    match line.parts.iter_mut().find(|(id, _)| *id == part.id) {
                        Some((_, count)) => *count += number,
                        None => line.parts.push((part.id.clone(), number)),
                    }
                }
                None => lines.push(HardwareLine {
                    fitting: Fitting {
                        count: number,
                        ..fitting.clone()
                    },
                    parts: vec![(part.id.clone(), number)],
                }),
            }
        }
    }
    lines.sort_by(|a, b| {
        let (a, b) = (&a.fitting, &b.fitting);
        (a.kind, &a.gauge)
            .cmp(&(b.kind, &b.gauge))
            .then(a.length.unwrap_or(0.0).total_cmp(&b.length.unwrap_or(0.0)))
    });
    lines
}
