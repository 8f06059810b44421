//! The work of a face as jobs, each with its tool.

use jigless_model::geom::{Bounds, Path, Point, circle};
use jigless_model::operation::{ContourSide, Depth, Drill, MillArea, Mouth, Work};
use jigless_model::side::Face;
use jigless_model::view::FaceView;

use crate::machine::layers::Layer;
use crate::machine::relief::{relieve, relieve_area};
use crate::machine::router_options::RouterOptions;
use crate::machine::router_vet::{for_cone, for_hole};
use crate::machine::square_corners::mating_of;
use crate::machine::tool::{Tool, ToolKind};
use crate::machine::{tabs, through, tools};

/// When a job is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Phase {
    /// Holes for the pins that keep front and back in register.
    Register,
    /// Holes and their conical mouths.
    Drill,
    /// Areas and wide holes.
    Pocket,
    /// Openings.
    Inside,
    /// Outlines, which free the parts.
    Outside,
}

/// What a tool does.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Cut {
    /// Straight down.
    Down(Point),
    /// An area is cleared.
    Clear {
        /// Its border, run out over open edges.
        border: Path,
        /// Where the middle of the tool goes to clear its corners.
        reliefs: Vec<Point>,
    },
    /// A contour is followed.
    Follow {
        /// The contour.
        contour: Path,
        /// Which side of it is the part.
        side: ContourSide,
        /// Where the middle of the tool goes to clear its corners.
        reliefs: Vec<Point>,
        /// Middles of tabs, and the directions of their sides.
        tabs: Vec<(Point, Point)>,
    },
}

/// One job.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Job {
    /// What it is for: `door G1`.
    pub(super) name: String,
    /// When it is done.
    pub(super) phase: Phase,
    /// Number of its tool in the list, from 0.
    pub(super) tool: usize,
    /// The layer on which drawings have it.
    pub(super) layer: Layer,
    /// How deep it goes below the face, in millimetres.
    pub(super) depth: f64,
    /// What is done.
    pub(super) cut: Cut,
}

impl Job {
    /// The part that it belongs to: ids of parts have no blanks.
    pub(super) fn owner(&self) -> &str {
        self.name.split(' ').next().unwrap_or(&self.name)
    }

    /// The box around it.
    pub(super) fn bounds(&self) -> Bounds {
        let path = match &self.cut {
            Cut::Down(at) => return Bounds::around(*at, 0.0),
            Cut::Clear { border, .. } => border,
            Cut::Follow { contour, .. } => contour,
        };
        path.bounds().unwrap_or_else(|| Bounds::of_size(0.0, 0.0))
    }
}

/// What jobs are made with.
#[derive(Debug, Clone, Copy)]
pub(super) struct Maker<'a> {
    pub(super) router: &'a RouterOptions,
}

impl Maker<'_> {
    fn number(self, tool: &Tool) -> usize {
        let same = |other: &Tool| std::ptr::eq(other, tool);
        self.router.tools.iter().position(same).unwrap_or(0)
    }

    /// The jobs of a face, in the coordinates of the view. What no tool can do is reported elsewhere and left out.
    pub(super) fn of_view(self, view: &FaceView) -> Vec<Job> {
        let part = &view.workpiece.part;
        let through = through::depth(self.router, &part.stock);
        let mut jobs = Vec::new();
        for operation in &view.operations {
            match &operation.work {
                Work::Drill(hole) => self.hole(hole, &part.id, through, &mut jobs),
                Work::MillArea(area) => jobs.extend(self.area(area, view)),
                Work::AngledBore(_)
                | Work::CutContour(_)
                | Work::Mark(_)
                | Work::EdgeDrill(_)
                | Work::Bevel(_) => {}
            }
        }
        if view.face == Face::Front {
            self.contours(view, through, &mut jobs);
        }
        jobs
    }

    /// A hole of a diameter and depth: drilled, or cleared by a smaller mill.
    pub(super) fn round(
        self,
        name: String,
        phase: Phase,
        layer: Layer,
        centre: Point,
        (diameter, depth): (f64, f64),
    ) -> Option<Job> {
        let tool = for_hole(self.router, diameter, depth)?;
        let straight = tool.kind == ToolKind::Drill || tool.diameter > 0.95 * diameter;
        let (phase, cut) = if straight {
            (phase, Cut::Down(centre))
        } else {
            let border = circle(centre, diameter / 2.0);
            let reliefs = Vec::new();
            (phase.max(Phase::Pocket), Cut::Clear { border, reliefs })
        };
        Some(Job {
            name,
            phase,
            tool: self.number(tool),
            layer,
            depth,
            cut,
        })
    }

    fn hole(self, hole: &Drill, part: &str, through: f64, jobs: &mut Vec<Job>) {
        let name = format!("{part} {}", hole.id);
        let depth = match hole.depth {
            Depth::Through => through,
            Depth::Blind(depth) => depth,
        };
        match hole.mouth {
            Some(Mouth::Counterbore { diameter, depth }) => {
                let layer = Layer::Counterbore { diameter, depth };
                let size = (diameter, depth);
                jobs.extend(self.round(name.clone(), Phase::Drill, layer, hole.centre, size));
            }
            Some(Mouth::Countersink { diameter, angle }) => {
                if let Some(tool) = for_cone(self.router, diameter, angle) {
                    jobs.push(Job {
                        name: name.clone(),
                        phase: Phase::Drill,
                        tool: self.number(tool),
                        layer: Layer::Countersink { angle, diameter },
                        depth: diameter / 2.0 / (angle / 2.0).tan(),
                        cut: Cut::Down(hole.centre),
                    });
                }
            }
            None => {}
        }
        let layer = Layer::of_hole(hole);
        let size = (hole.diameter, depth);
        jobs.extend(self.round(name, Phase::Drill, layer, hole.centre, size));
    }

    fn area(self, area: &MillArea, view: &FaceView) -> Option<Job> {
        let size = (view.width, view.height);
        let (tool, border) = tools::for_area(self.router, area, size)?;
        let radius = tool.diameter / 2.0;
        let relieved = relieve_area(&border, &mating_of(view), self.router.relief, radius);
        Some(Job {
            name: format!("{} {}", view.workpiece.part.id, area.id),
            phase: Phase::Pocket,
            tool: self.number(tool),
            layer: Layer::Area(area.kind, area.depth),
            depth: area.depth,
            cut: Cut::Clear {
                border,
                reliefs: relieved.centres,
            },
        })
    }

    fn contours(self, view: &FaceView, through: f64, jobs: &mut Vec<Job>) {
        let Some(tool) = tools::for_contours(self.router, view.workpiece) else {
            return;
        };
        let radius = tool.diameter / 2.0;
        for cut in &view.contours {
            let mating = &view.workpiece.mating;
            let relieved = relieve(&cut.path, mating, self.router.relief, radius);
            let (phase, layer, name) = match cut.side {
                ContourSide::Inner => (Phase::Inside, Layer::CutInside, "opening"),
                ContourSide::Outer => (Phase::Outside, Layer::CutOutside, "outline"),
            };
            let gap = self.router.tab + self.router.largest();
            let tabs = if cut.side == ContourSide::Outer && self.router.tab > 0.0 {
                tabs::places(&cut.path, gap)
            } else {
                Vec::new()
            };
            jobs.push(Job {
                name: format!("{} {name}", view.workpiece.part.id),
                phase,
                tool: self.number(tool),
                layer,
                depth: through,
                cut: Cut::Follow {
                    contour: cut.path.clone(),
                    side: cut.side,
                    reliefs: relieved.centres,
                    tabs,
                },
            });
        }
    }
}
