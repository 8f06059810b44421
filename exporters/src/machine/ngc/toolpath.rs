//! Jobs as steps of the tool.

use jigless_model::geom::{Path, Point, Segment};
use jigless_model::operation::ContourSide;

use super::jobs::{Cut, Job};
use super::loops;
use super::options::NgcRouterOptions;
use super::route::Route;
use crate::machine::tool::{Tool, ToolKind};

/// How high above what was drilled a drill is rapid, in millimetres. Common practice, no source.
const ABOVE_CHIPS: f64 = 0.5;
/// Slope at which a tool climbs over a tab and goes down behind it: 30 degrees. Common practice, no source.
pub(super) const TAB_SLOPE: f64 = 0.577_35;
/// The longest way beside an outline on which a tool goes down, in millimetres. Common practice, no source.
const LONGEST_LEAD: f64 = 40.0;

/// The depths of even passes, none of them deeper than a tool may go at once.
pub(super) fn passes(depth: f64, most: f64) -> Vec<f64> {
    let count = (depth / most - 1e-9).ceil().max(1.0) as usize;
    (1..=count)
        .map(|pass| depth * pass as f64 / count as f64)
        .collect()
}

/// The steps of a job, which begin and end at the safe height.
pub(super) fn of(job: &Job, tool: &Tool, options: &NgcRouterOptions, thickness: f64) -> Route {
    let making = Making {
        tool,
        options,
        radius: tool.diameter / 2.0,
    };
    let mut route = Route::default();
    match &job.cut {
        Cut::Down(at) => making.down(*at, job.depth, &mut route),
        Cut::Clear { border, reliefs } => making.clear(border, reliefs, job.depth, &mut route),
        Cut::Follow {
            contour,
            side,
            reliefs,
            tabs,
        } => {
            let top = (thickness - options.router.tab_height).max(0.0);
            let followed = Followed {
                contour,
                side: *side,
                reliefs,
                tabs,
                tab_z: -top,
            };
            making.follow(&followed, job.depth, &mut route);
        }
    }
    if let Some(last) = route.steps.last().copied() {
        route.rapid(last.to, options.safe);
    }
    route
}

struct Making<'a> {
    tool: &'a Tool,
    options: &'a NgcRouterOptions,
    radius: f64,
}

/// A contour that is followed.
struct Followed<'a> {
    contour: &'a Path,
    side: ContourSide,
    reliefs: &'a [Point],
    tabs: &'a [(Point, Point)],
    /// Height of the top of the tabs.
    tab_z: f64,
}

impl Making<'_> {
    /// To the safe height above a place, and rapid down to where wood may begin.
    fn go_above(&self, at: Point, wood: f64, route: &mut Route) {
        let safe = self.options.safe;
        if let Some(last) = route.steps.last().copied() {
            route.rapid(last.to, safe);
        }
        route.rapid(at, safe);
        route.rapid(at, self.options.clearance);
        if wood < 0.0 {
            // Through what is cleared already.
            route.line(at, wood);
        } else {
            route.line(at, 0.0);
        }
    }

    fn down(&self, at: Point, depth: f64, route: &mut Route) {
        let (safe, clearance) = (self.options.safe, self.options.clearance);
        route.rapid(at, safe);
        route.rapid(at, clearance);
        if self.tool.kind == ToolKind::Countersink {
            route.line(at, -depth);
            route.rapid(at, clearance);
            return;
        }
        let mut done = 0.0;
        for next in passes(depth, self.tool.pass) {
            if done > 0.0 {
                route.rapid(at, clearance);
                route.rapid(at, ABOVE_CHIPS - done);
            }
            route.line(at, -next);
            done = next;
        }
        route.rapid(at, clearance);
    }

    fn clear(&self, border: &Path, reliefs: &[Point], depth: f64, route: &mut Route) {
        let step = self.options.stepover * self.tool.diameter;
        let mut levels = loops::clearing(border, self.radius, step);
        let runs = !self.options.conventional;
        for path in levels.iter_mut().flatten() {
            *path = path.normalised(runs);
        }
        if let Some(outermost) = levels.last_mut().and_then(|loops| loops.first_mut()) {
            *outermost = loops::with_detours(outermost, reliefs);
        }
        let mut before = 0.0;
        for pass in passes(depth, self.tool.pass) {
            for (number, path) in levels.iter().flatten().enumerate() {
                let (at, height) = route.at();
                let near = loops::from_nearest(path, at);
                let Some(start) = near.vertices.first().map(|vertex| vertex.point) else {
                    continue;
                };
                let linked = number > 0
                    && (height + pass).abs() < 1e-9
                    && at.distance(start) <= 1.5 * step + 1e-6;
                let path = if linked {
                    route.line(start, -pass);
                    near
                } else {
                    self.go_above(start, -before, route);
                    route.descend(&near, -pass, self.options.slope())
                };
                route.lap(&path, -pass);
            }
            before = pass;
        }
    }

    fn follow(&self, followed: &Followed, depth: f64, route: &mut Route) {
        let conventional = self.options.conventional;
        let paths = loops::beside(followed.contour, followed.side, self.radius, conventional);
        let Some(path) = paths.first() else { return };
        let path = loops::with_detours(path, followed.reliefs);
        match self.lead(followed, &path) {
            Some(lead) => self.with_lead(followed, &path, lead, depth, route),
            None => self.on_contour(followed, &path, depth, route),
        }
    }

    /// Goes down on the contour itself; each lap at depth takes away what the way down left.
    fn on_contour(&self, followed: &Followed, path: &Path, depth: f64, route: &mut Route) {
        let mut path = path.clone();
        let Some(start) = path.vertices.first().map(|vertex| vertex.point) else {
            return;
        };
        self.go_above(start, 0.0, route);
        for pass in passes(depth, self.tool.pass) {
            path = route.descend(&path, -pass, self.options.slope());
            self.lap(followed, &path, -pass, route);
        }
    }

    /// The line beside the longest straight side of an outline on which the tool goes down, in the waste: where it begins
    /// and ends, and the number of the vertex at which it comes to the outline. It keeps clear of tabs, which stand in
    /// the middles of sides.
    fn lead(&self, followed: &Followed, path: &Path) -> Option<(Point, Point, usize)> {
        if followed.side == ContourSide::Inner || self.options.lead <= 0.0 {
            return None;
        }
        let bounds = path.bounds()?;
        let on_box = |a: Point, b: Point| {
            let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
            let x = near(a.x, b.x) && (near(a.x, bounds.min.x) || near(a.x, bounds.max.x));
            let y = near(a.y, b.y) && (near(a.y, bounds.min.y) || near(a.y, bounds.max.y));
            x || y
        };
        let sides = path
            .segments()
            .enumerate()
            .filter_map(|(index, segment)| match segment {
                Segment::Line(a, b) if on_box(a, b) => Some((index, a, b)),
                _ => None,
            });
        let (index, a, b) = sides.max_by(|x, y| x.1.distance(x.2).total_cmp(&y.1.distance(y.2)))?;
        let length = a.distance(b);
        let room = if followed.tabs.is_empty() {
            length
        } else {
            length / 2.0 - self.options.router.tab / 2.0 - self.tool.diameter - 1.0
        };
        let run = room.min(LONGEST_LEAD);
        if run < self.tool.diameter / 2.0 {
            return None;
        }
        let along = (b - a).unit();
        // The waste is on the side away from the part.
        let outward = if path.area() > 0.0 {
            -along.left()
        } else {
            along.left()
        };
        let beside = a + outward * self.options.lead;
        Some((beside, beside + along * run, index))
    }

    fn with_lead(
        &self,
        followed: &Followed,
        path: &Path,
        (near, far, index): (Point, Point, usize),
        depth: f64,
        route: &mut Route,
    ) {
        let mut path = path.clone();
        path.vertices.rotate_left(index);
        let Some(start) = path.vertices.first().map(|vertex| vertex.point) else {
            return;
        };
        let way = Path::of_points([near, far], true);
        self.go_above(near, 0.0, route);
        for pass in passes(depth, self.tool.pass) {
            let rest = route.descend(&way, -pass, self.options.slope());
            // Level, so that the next pass finds no wedge; to the near end last.
            route.lap(&rest, -pass);
            route.line(near, -pass);
            route.line(start, -pass);
            self.lap(followed, &path, -pass, route);
            route.line(near, -pass);
        }
    }

    /// Once around at a height, over the tabs.
    fn lap(&self, followed: &Followed, path: &Path, z: f64, route: &mut Route) {
        if followed.tabs.is_empty() || z >= followed.tab_z {
            route.lap(path, z);
            return;
        }
        let half = f64::midpoint(self.options.router.tab, self.tool.diameter);
        let climb = (followed.tab_z - z) / TAB_SLOPE;
        for segment in path.segments() {
            let Segment::Line(a, b) = segment else {
                route.along(&segment, z);
                continue;
            };
            let (along, length) = ((b - a).unit(), a.distance(b));
            let mut tabs: Vec<f64> = followed
                .tabs
                .iter()
                .filter(|(middle, _)| {
                    let away = along.cross(*middle - a).abs();
                    (away - self.radius).abs() < 1e-3
                })
                .map(|(middle, _)| along.dot(*middle - a))
                .filter(|at| *at > half && *at < length - half)
                .collect();
            tabs.sort_by(f64::total_cmp);
            for at in tabs {
                let on = |s: f64| a + along * s.clamp(0.0, length);
                route.line(on(at - half - climb), z);
                route.line(on(at - half), followed.tab_z);
                route.line(on(at + half), followed.tab_z);
                route.line(on(at + half + climb), z);
            }
            route.line(b, z);
        }
    }
}
