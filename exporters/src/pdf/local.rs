//! Finding the work of a face that small templates can show: a few pages that each register on edges close by, in
//! place of the whole face over many.

use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Path, Point, Segment};
use jigless_model::operation::{AreaKind, ContourSide, MillArea, Operation, Work};
use jigless_model::side::{Edge, Face};
use jigless_model::view::FaceView;

use super::repeats::{self, Repeat};
use super::rows::{self, WorkRow};
use super::work_box::{NEAR, work_box, work_box_of_edge};
use crate::drawing::mark::ARM;
use crate::view_edge::{self, Axis};

/// A template hooks on an edge of which it shows at least this much, in millimetres.
pub(super) const HOOK: f64 = 40.0;
/// A face with more work than this goes over whole pages.
const MOST: usize = 2000;
/// The least depth of a flap, in millimetres: its words must fit. Over thinner stock it wraps around to the other face.
const FLAP: f64 = 12.0;
/// Flaps deeper than this, in millimetres, are for marks only: this much hooks over an edge.
const DEEP_FLAP: f64 = 14.0;
/// Paper left beyond the farthest mark of a flap, in millimetres.
const FLAP_BORDER: f64 = 1.0;

/// How a template finds its place along one axis of the face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Register {
    /// A flap is folded over this side of the view.
    Fold {
        /// The side.
        edge: Edge,
        /// How far the flap reaches out, in millimetres.
        depth: f64,
    },
    /// A line of the template goes on a pencil line.
    Line {
        /// Where, along the axis.
        at: f64,
        /// The side of the view that it is measured from.
        from: Edge,
        /// How far from it, in millimetres.
        distance: f64,
    },
}

/// The work of one small template.
#[derive(Debug, Clone)]
pub(super) struct WorkGroup<'a> {
    /// What of the face is done here.
    pub(super) view: FaceView<'a>,
    /// The box around that work with its marks, and out to the edges that it registers on.
    pub(super) bounds: Bounds,
    /// How it registers across and upward.
    pub(super) register: [Register; 2],
    /// Further sides of the view that carry marks and have room for a flap, and its depth: folded, but not hooked.
    pub(super) also: Vec<(Edge, f64)>,
    /// How the template is used again and again, if it is.
    pub(super) repeat: Option<Repeat>,
}

/// What of a face small templates show.
#[derive(Debug, Clone)]
pub(super) struct LocalWork<'a> {
    /// The templates.
    pub(super) groups: Vec<WorkGroup<'a>>,
    /// Work that is set out with a rule, by its place in the operations of the view: grooves and rebates, and long lines.
    pub(super) ruled: Vec<usize>,
    /// Holes and nails in a line that are rows of a table.
    pub(super) rows: Vec<WorkRow>,
    /// Lone rounded corners, which are rows of a table, too: the two sides of the view, and the radius.
    pub(super) corners: Vec<(Edge, Edge, f64)>,
}

/// One piece of work that wants a place on a template.
struct WantedWork {
    /// Its place in the operations of the view; `None` for work on edges and contours.
    operation: Option<usize>,
    bounds: Bounds,
    /// How deep a flap must be to hold what it marks on the edges.
    reach: f64,
}

/// Sorts the work of a face into small templates whose drawing area is `room` across and upward. What a table can say is
/// kept for it where `tables` are wanted. A template has no more than `most` pieces of work, where they are not repeated.
/// `None` where some of the work fits no page.
pub(super) fn sort<'a>(
    view: &FaceView<'a>,
    room: (f64, f64),
    tables: bool,
    most: usize,
) -> Option<LocalWork<'a>> {
    if view.operations.len() > MOST {
        return None;
    }
    let mut wanted = Vec::new();
    let mut ruled = Vec::new();
    let rows = if tables {
        rows::work_rows(view, room)
    } else {
        Vec::new()
    };
    let mut taken: Vec<usize> = rows
        .iter()
        .flat_map(|row| &row.operations)
        .copied()
        .collect();
    let repeats = repeats::find(view, room, &taken);
    taken.extend(repeats.iter().flat_map(|repeat| &repeat.all));
    let mut corners = Vec::new();
    for (index, operation) in view.operations.iter().enumerate() {
        if taken.contains(&index) {
            continue;
        }
        let bounds = work_box(operation)?;
        if is_ruled(operation, bounds, room) {
            ruled.push(index);
        } else {
            wanted.push(WantedWork {
                operation: Some(index),
                bounds,
                reach: reach(view, operation),
            });
        }
    }
    // What is cut right through, and edges, are worked from the front.
    if view.face == Face::Front {
        let (boxes, round) = contour_boxes(view, tables);
        corners = round;
        wanted.extend(boxes.into_iter().map(|bounds| WantedWork {
            operation: None,
            bounds,
            reach: 0.0,
        }));
        for (index, operation) in view.edge_work.iter().enumerate() {
            let repeated = taken.contains(&(view.operations.len() + index));
            if let (Work::EdgeDrill(_), false) = (&operation.work, repeated) {
                wanted.push(WantedWork {
                    operation: None,
                    bounds: work_box_of_edge(view, operation)?,
                    reach: reach(view, operation),
                });
            }
        }
    }
    if wanted.len() > MOST {
        return None;
    }
    for want in &mut wanted {
        let fits = |b: Bounds| b.width() <= room.0 && b.height() <= room.1;
        if !fits(want.bounds) {
            return None;
        }
        for axis in Axis::ALL {
            let extended = to_near_edge(view, want.bounds, axis);
            if needed(view, extended, flap_depth(view, want.reach)).is_within(room) {
                want.bounds = extended;
            }
        }
    }
    let mut groups = pack(view, wanted, room, most);
    for repeat in repeats {
        groups.push(repeated(view, repeat, room)?);
    }
    groups.sort_by_key(|group| place_in_order(view, group.bounds));
    Some(LocalWork {
        groups,
        ruled,
        rows,
        corners,
    })
}

/// The template of repeated work: it hooks over the edge beside it, and its line goes on one pencil line after the other.
fn repeated<'a>(view: &FaceView<'a>, repeat: Repeat, room: (f64, f64)) -> Option<WorkGroup<'a>> {
    let boxes = repeat
        .shown
        .iter()
        .filter_map(|index| repeats::bounds_of(view, *index));
    let own = boxes.reduce(Bounds::union)?;
    let bounds = to_near_edge(view, own, repeat.axis.other());
    let shown = repeat
        .shown
        .iter()
        .filter_map(|index| repeats::operation(view, *index));
    let reaches = shown.map(|operation| reach(view, operation));
    let depth = flap_depth(view, reaches.fold(0.0, f64::max));
    if !needed(view, bounds, depth).is_within(room) {
        return None;
    }
    let taken: Vec<WantedWork> = repeat
        .shown
        .iter()
        .map(|index| WantedWork {
            operation: Some(*index),
            bounds: own,
            reach: 0.0,
        })
        .collect();
    let mut group = group(view, &taken, bounds, depth, room);
    // What lies about the first copy does not lie about the others.
    group
        .view
        .operations
        .retain(|operation| !matches!(operation.work, Work::MillArea(_)));
    group.view.from_other_face.clear();
    let mut index = view.operations.len();
    group.view.edge_work.clone_from(&view.edge_work);
    group.view.edge_work.retain(|_| {
        index += 1;
        repeat.shown.contains(&(index - 1))
    });
    group.also.clear();
    let along = match repeat.axis {
        Axis::Across => 0,
        Axis::Upward => 1,
    };
    let from = repeat.axis.datum(view);
    group.register[along] = Register::Line {
        at: repeat.line,
        from,
        distance: repeat.axis.distance(view, from, repeat.line),
    };
    group.repeat = Some(repeat);
    Some(group)
}

/// Work goes from the lowest upward, and there from the datum onward, so that both parts of a handed pair have the same
/// pages.
fn place_in_order(view: &FaceView, bounds: Bounds) -> (i64, i64) {
    let datum = Axis::Across.datum(view);
    let off = [bounds.min, bounds.max].map(|corner| view_edge::distance(view, datum, corner));
    (steps(bounds.min.y), steps(off[0].min(off[1])))
}

/// Puts work together on pages: from the first that is left, all that still fits beside it, up to a number.
fn pack<'a>(
    view: &FaceView<'a>,
    mut wanted: Vec<WantedWork>,
    room: (f64, f64),
    most: usize,
) -> Vec<WorkGroup<'a>> {
    wanted.sort_by_key(|want| place_in_order(view, want.bounds));
    let mut groups = Vec::new();
    while !wanted.is_empty() {
        let mut bounds: Option<Bounds> = None;
        let mut reach: f64 = 0.0;
        let (mut taken, mut left) = (Vec::new(), Vec::new());
        for want in wanted {
            let joined = bounds.map_or(want.bounds, |bounds| bounds.union(want.bounds));
            let depth = flap_depth(view, reach.max(want.reach));
            let fits = taken.len() < most && needed(view, joined, depth).is_within(room);
            if bounds.is_none() || fits {
                bounds = Some(joined);
                reach = reach.max(want.reach);
                taken.push(want);
            } else {
                left.push(want);
            }
        }
        wanted = left;
        if let Some(bounds) = bounds {
            groups.push(group(view, &taken, bounds, flap_depth(view, reach), room));
        }
    }
    groups
}

fn group<'a>(
    view: &FaceView<'a>,
    taken: &[WantedWork],
    bounds: Bounds,
    depth: f64,
    room: (f64, f64),
) -> WorkGroup<'a> {
    let mut own = view.clone();
    let mut index = 0;
    own.operations.retain(|operation| {
        let here = index;
        index += 1;
        // Areas are drawn as far as they reach in: they show where the template lies.
        matches!(operation.work, Work::MillArea(_))
            || taken.iter().any(|want| want.operation == Some(here))
    });
    let inside = |operation: &Operation| match &operation.work {
        Work::Drill(drill) => bounds.contains(drill.centre, 0.0),
        Work::EdgeDrill(_) => work_box_of_edge(view, operation)
            .is_some_and(|own| bounds.contains_box(own, LENGTH_TOLERANCE)),
        Work::Bevel(_) => true,
        _ => false,
    };
    own.from_other_face.retain(inside);
    own.edge_work.retain(inside);
    let centres: Vec<Point> = taken.iter().map(|want| want.bounds.centre()).collect();
    let registers = Axis::ALL.map(|axis| register(view, bounds, &own, &centres, axis, depth));
    let also = registers
        .into_iter()
        .zip([room.0 - bounds.width(), room.1 - bounds.height()])
        .filter_map(|(register, left)| match register {
            Register::Fold { edge, depth } if left >= 2.0 * depth => Some((edge.opposite(), depth)),
            _ => None,
        })
        .filter(|(edge, _)| has_marks(&own, *edge) && is_touched(view, bounds, *edge))
        .collect();
    WorkGroup {
        view: own,
        bounds,
        register: registers,
        also,
        repeat: None,
    }
}

/// How a template registers along one axis.
fn register(
    view: &FaceView,
    bounds: Bounds,
    own: &FaceView,
    centres: &[Point],
    axis: Axis,
    depth: f64,
) -> Register {
    let ((low, high), size) = (axis.sides(), axis.size(view));
    let (from, to) = axis.span(bounds);
    let middle = centres.iter().map(|c| axis.of(*c)).sum::<f64>() / centres.len().max(1) as f64;
    let mut touched = Vec::new();
    if from < LENGTH_TOLERANCE {
        touched.push((middle, low));
    }
    if to > size - LENGTH_TOLERANCE {
        touched.push((size - middle, high));
    }
    let datum = axis.datum(view);
    // A flap is wanted most where it carries marks.
    touched.sort_by_key(|(off, edge)| (!has_marks(own, *edge), steps(*off), *edge != datum));
    let hook = touched
        .into_iter()
        .map(|(_, edge)| edge)
        .find(|edge| straight_length(view, *edge, bounds.grown(HOOK)) >= HOOK);
    if let Some(edge) = hook {
        return Register::Fold { edge, depth };
    }
    // Through the middle of the marks, which for a hinge is its cup.
    let marks = own
        .operations
        .iter()
        .filter_map(|operation| match &operation.work {
            Work::Drill(drill) => Some(axis.of(drill.centre)),
            Work::AngledBore(bore) => Some(axis.of(bore.entry)),
            _ => None,
        });
    let ends = marks.fold(None, |ends: Option<(f64, f64)>, at| {
        Some(ends.map_or((at, at), |(a, b)| (a.min(at), b.max(at))))
    });
    let (a, b) = ends.unwrap_or((from, to));
    let at = f64::midpoint(a, b);
    Register::Line {
        at,
        from: datum,
        distance: axis.distance(view, datum, at),
    }
}

/// A length in whole steps of what is told apart, so that lengths that are meant to be equal are.
fn steps(length: f64) -> i64 {
    (length / LENGTH_TOLERANCE).round() as i64
}

/// Depth of the flap over an edge of a whole face: where its marks are laid out from this face, and only then.
pub(super) fn marked_flap(view: &FaceView, edge: Edge) -> Option<f64> {
    let on_edge = |operation: &&Operation| match &operation.work {
        Work::AngledBore(bore) => bore.edge == edge,
        Work::EdgeDrill(hole) => hole.edge == edge && view.face == Face::Front,
        _ => false,
    };
    let marks = view
        .operations
        .iter()
        .chain(&view.edge_work)
        .filter(on_edge);
    let reach = marks
        .map(|operation| reach(view, operation))
        .reduce(f64::max);
    reach.map(|reach| flap_depth(view, reach))
}

/// Whether some of the work leaves a mark on an edge.
fn has_marks(view: &FaceView, edge: Edge) -> bool {
    let mut operations = view.operations.iter().chain(&view.edge_work);
    operations.any(|operation| match &operation.work {
        Work::AngledBore(bore) => bore.edge == edge,
        Work::EdgeDrill(hole) => hole.edge == edge,
        _ => false,
    })
}

/// Whether a box reaches a side of the view.
fn is_touched(view: &FaceView, bounds: Bounds, edge: Edge) -> bool {
    let reach = |corner: Point| view_edge::distance(view, edge, corner);
    reach(bounds.min).min(reach(bounds.max)) < LENGTH_TOLERANCE
}

/// Width and height that a template takes with its flaps.
struct Needed(f64, f64);

impl Needed {
    fn is_within(&self, room: (f64, f64)) -> bool {
        self.0 <= room.0 && self.1 <= room.1
    }
}

fn needed(view: &FaceView, bounds: Bounds, depth: f64) -> Needed {
    let [across, upward] = Axis::ALL.map(|axis| {
        let (from, to) = axis.span(bounds);
        let at_edge = from < LENGTH_TOLERANCE || to > axis.size(view) - LENGTH_TOLERANCE;
        to - from + if at_edge { depth } else { 0.0 }
    });
    Needed(across, upward)
}

/// Depth of a flap over an edge of the part that carries marks up to `reach`.
fn flap_depth(view: &FaceView, reach: f64) -> f64 {
    let thickness = view.workpiece.part.thickness();
    let depth = if thickness < FLAP {
        thickness + FLAP
    } else {
        thickness.min(DEEP_FLAP)
    };
    depth.max(reach + FLAP_BORDER)
}

/// The box drawn out to an edge along one axis, where one is near: to the datum, unless the other is less than half as far.
/// Parts that share holes are seldom of one size, and are set out from the same end all the same.
fn to_near_edge(view: &FaceView, bounds: Bounds, axis: Axis) -> Bounds {
    let datum = axis.datum(view);
    let off = |edge: Edge| {
        let corners = [bounds.min, bounds.max];
        let [a, b] = corners.map(|corner| view_edge::distance(view, edge, corner));
        a.min(b).max(0.0)
    };
    let (own, other) = (off(datum), off(datum.opposite()));
    let edge = if own <= NEAR && own <= 2.0 * other + LENGTH_TOLERANCE {
        datum
    } else if other <= NEAR {
        datum.opposite()
    } else {
        return bounds;
    };
    let (low, _) = axis.sides();
    let (from, to) = axis.span(bounds);
    let side = if edge == low {
        from.min(0.0)
    } else {
        to.max(axis.size(view))
    };
    let (beside, _) = axis.other().span(bounds);
    let point = axis.point(side, beside);
    bounds.union(Bounds::new(point, point))
}

fn reach(view: &FaceView, operation: &Operation) -> f64 {
    match &operation.work {
        Work::AngledBore(bore) => bore.exit_depth + bore.pilot / 2.0 / bore.angle.cos() + ARM,
        Work::EdgeDrill(hole) => {
            let depth = match view.face {
                Face::Front => hole.from_front,
                Face::Back => view.workpiece.part.thickness() - hole.from_front,
            };
            depth + hole.diameter / 2.0 + ARM
        }
        _ => 0.0,
    }
}

/// Grooves and rebates, and straight lines too long for a page, are set out with a rule: two numbers say where.
fn is_ruled(operation: &Operation, bounds: Bounds, room: (f64, f64)) -> bool {
    match &operation.work {
        Work::MillArea(area) => is_ruled_area(area, bounds),
        Work::Mark(mark) => {
            let straight = |segment: Segment| matches!(segment, Segment::Line(..));
            let fits = bounds.width() <= room.0 && bounds.height() <= room.1;
            !fits && mark.lines.iter().flat_map(Path::segments).all(straight)
        }
        _ => false,
    }
}

fn is_ruled_area(area: &MillArea, bounds: Bounds) -> bool {
    let oblong = (area.outline.area().abs() - bounds.width() * bounds.height()).abs() < 1e-6;
    oblong && matches!(area.kind, AreaKind::Groove | AreaKind::Rebate)
}

/// The boxes around everything that is cut through and is not a plain edge; and, where they are wanted by themselves, the
/// corners that are no more than rounded.
fn contour_boxes(view: &FaceView, tables: bool) -> (Vec<Bounds>, Vec<(Edge, Edge, f64)>) {
    let mut corners = Vec::new();
    let mut boxes: Vec<Bounds> = Vec::new();
    for cut in &view.contours {
        if cut.side == ContourSide::Inner {
            boxes.extend(cut.path.bounds());
            continue;
        }
        for run in runs_off_edges(view, &cut.path) {
            let corner = match run.as_slice() {
                [Segment::Arc(arc)] if tables => rows::rounded_corner(view, arc),
                _ => None,
            };
            match corner {
                Some(corner) => corners.push(corner),
                None => boxes.extend(run.iter().map(Segment::bounds).reduce(Bounds::union)),
            }
        }
    }
    (boxes, corners)
}

/// The stretches of an outline that lie on no side of the rectangle.
fn runs_off_edges(view: &FaceView, path: &Path) -> Vec<Vec<Segment>> {
    let on_edge = |segment: &Segment| {
        let Segment::Line(from, to) = segment else {
            return false;
        };
        Axis::ALL.into_iter().any(|axis| {
            [0.0, axis.size(view)].into_iter().any(|at| {
                let off = |point: &Point| (axis.of(*point) - at).abs();
                off(from) < LENGTH_TOLERANCE && off(to) < LENGTH_TOLERANCE
            })
        })
    };
    let mut runs: Vec<Vec<Segment>> = vec![Vec::new()];
    for segment in path.segments() {
        if on_edge(&segment) {
            runs.push(Vec::new());
        } else if let Some(run) = runs.last_mut() {
            run.push(segment);
        }
    }
    // The last run goes on in the first one.
    if runs.len() > 1 {
        let mut last = runs.pop().unwrap_or_default();
        last.append(&mut runs[0]);
        runs[0] = last;
    }
    runs.retain(|run| !run.is_empty());
    runs
}

/// The straight pieces of the outline on a side of the view, as ranges along it.
pub(super) fn straight_pieces(view: &FaceView, edge: Edge, inside: Bounds) -> Vec<(f64, f64)> {
    let (on, out) = view_edge::outward(view, edge, 0.0);
    let outlines = view
        .contours
        .iter()
        .filter(|cut| cut.side == ContourSide::Outer);
    let along = |p: Point| if edge.is_upright() { p.y } else { p.x };
    let range = (along(inside.min), along(inside.max));
    let mut pieces: Vec<(f64, f64)> = outlines
        .flat_map(|cut| cut.path.segments())
        .filter_map(|segment| match segment {
            Segment::Line(from, to) => Some((from, to)),
            Segment::Arc(_) => None,
        })
        .filter(|(from, to)| {
            [from, to]
                .into_iter()
                .all(|p| (*p - on).dot(out).abs() < LENGTH_TOLERANCE)
        })
        .map(|(from, to)| {
            let (a, b) = (along(from), along(to));
            (a.min(b).max(range.0), a.max(b).min(range.1))
        })
        .filter(|(a, b)| b - a > LENGTH_TOLERANCE)
        .collect();
    pieces.sort_by(|a, b| a.0.total_cmp(&b.0));
    pieces
}

fn straight_length(view: &FaceView, edge: Edge, inside: Bounds) -> f64 {
    straight_pieces(view, edge, inside)
        .iter()
        .map(|(a, b)| b - a)
        .sum()
}
