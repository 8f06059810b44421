//! A part on a face that is worked, and where it lies.

use jigless_model::geom::{Path, Point};
use jigless_model::workpiece::Workpiece;

use super::jobs::{Cut, Job};
use crate::machine::sheet_frame::Placing;

/// A part on the face, and where it lies.
#[derive(Debug, Clone, Copy)]
pub(in crate::machine) struct PartOnFace<'a> {
    pub(in crate::machine) workpiece: &'a Workpiece,
    /// Its place on a sheet; `None` where it is by itself.
    pub(in crate::machine) placing: Option<Placing<'a>>,
}

impl PartOnFace<'_> {
    /// A point of the view in the program.
    pub(super) fn point(&self, seen: Point) -> Point {
        self.placing
            .as_ref()
            .map_or(seen, |placing| placing.point(seen))
    }

    /// A path of the view in the program.
    pub(super) fn path(&self, seen: &Path) -> Path {
        let placing = self.placing.as_ref();
        placing.map_or_else(|| seen.clone(), |placing| placing.path(seen))
    }

    /// A job of the view in the program.
    pub(super) fn job(&self, job: Job) -> Job {
        let points = |of: Vec<Point>| of.into_iter().map(|p| self.point(p)).collect();
        let cut = match job.cut {
            Cut::Down(at) => Cut::Down(self.point(at)),
            Cut::Clear { border, reliefs } => Cut::Clear {
                border: self.path(&border),
                reliefs: points(reliefs),
            },
            Cut::Follow {
                contour,
                side,
                reliefs,
                tabs,
            } => Cut::Follow {
                contour: self.path(&contour),
                side,
                reliefs: points(reliefs),
                tabs: tabs
                    .into_iter()
                    .map(|(at, along)| {
                        let from = self.point(at);
                        (from, self.point(at + along) - from)
                    })
                    .collect(),
            },
        };
        Job { cut, ..job }
    }
}
