//! The work of a face as numbered operations: what one tool does before the work goes on otherwise. The numbers are the
//! same in the program, on the job sheet and in its picture.

use jigless_model::units::{Unit, decimal};

use super::jobs::{Job, Phase};
use crate::machine::tool::{Tool, ToolKind};

/// Jobs of one kind that one tool does one after the other.
#[derive(Debug, Clone, Copy)]
pub(super) struct Operation<'a> {
    /// From 1, in the order of the work.
    pub(super) number: usize,
    /// Number of its tool in the list, from 0.
    pub(super) tool: usize,
    /// The jobs in their order; never none.
    pub(super) jobs: &'a [Job],
}

/// The jobs of a face as operations.
pub(super) fn numbered(jobs: &[Job]) -> Vec<Operation<'_>> {
    jobs.chunk_by(|a, b| (a.phase, a.tool) == (b.phase, b.tool))
        .enumerate()
        .filter_map(|(index, jobs)| {
            let tool = jobs.first()?.tool;
            Some(Operation {
                number: index + 1,
                tool,
                jobs,
            })
        })
        .collect()
}

/// A long way in words: `12.4 m`, `40.7 ft`.
pub(super) fn long_way(mm: f64, unit: Unit) -> String {
    match unit {
        Unit::Millimetre => format!("{} m", decimal(mm / 1000.0, 1)),
        Unit::Inch => format!("{} ft", decimal(mm / 304.8, 1)),
    }
}

impl Operation<'_> {
    /// `24 holes, 13 mm deep`. What is as deep as `through` is a through cut.
    pub(super) fn words(&self, tool: &Tool, through: f64, unit: Unit) -> String {
        let mut depths: Vec<f64> = self.jobs.iter().map(|job| job.depth).collect();
        depths.sort_by(f64::total_cmp);
        depths.dedup_by(|a, b| (*a - *b).abs() < 0.005);
        let one = |depth: f64| {
            if depth > through - 0.005 {
                "through".to_owned()
            } else {
                format!("{} deep", unit.show(depth))
            }
        };
        let deep = match depths.as_slice() {
            [all] => one(*all),
            [least, most] => format!("{} or {}", one(*least), one(*most)),
            [least, .., most] => format!("from {} to {}", one(*least), one(*most)),
            [] => String::new(),
        };
        let count = self.jobs.len();
        let phase = self.jobs.first().map(|job| job.phase);
        let (singular, plural) = match (phase, tool.kind) {
            (Some(Phase::Register), _) => ("hole for a pin", "holes for the pins"),
            (Some(Phase::Drill), ToolKind::Countersink) => ("countersink", "countersinks"),
            (Some(Phase::Drill), _) => ("hole", "holes"),
            (Some(Phase::Pocket), _) => ("area to clear", "areas to clear"),
            (Some(Phase::Inside), _) => ("opening", "openings"),
            (Some(Phase::Outside), _) => (
                "outline, which frees the part",
                "outlines, which free the parts",
            ),
            (None, _) => ("", ""),
        };
        let kind = if count == 1 { singular } else { plural };
        format!("{count} {kind}, {deep}")
    }

    /// How deep its tool reaches below the face, in millimetres.
    pub(super) fn deepest(&self) -> f64 {
        self.jobs.iter().map(|job| job.depth).fold(0.0, f64::max)
    }
}
