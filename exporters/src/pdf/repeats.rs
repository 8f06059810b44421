//! The same work again along an edge: hinges of a tall door, screws in a row, and rows of pins that are longer than a
//! sheet. One template does for all of it.

use std::collections::BTreeMap;

use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Point};
use jigless_model::operation::{Drill, Operation, Work};
use jigless_model::side::{Edge, Face};
use jigless_model::view::FaceView;

use super::short_names;
use super::work_box::{NEAR, work_box, work_box_of_edge};
use crate::drawing::mark::ARM;
use crate::drawing::measure::Lengths;
use crate::view_edge::{self, Axis};

/// Marks that lie no farther apart than this belong together, in millimetres: a cup and its screws, the two holes of a
/// plate, the pins of a row.
const TOGETHER: f64 = 24.0;

/// Room for a hook beside work that two repeats share, in millimetres.
const NEAR_HOOK: f64 = 30.0;

/// Work that comes again along an edge, or goes on.
#[derive(Debug, Clone)]
pub(super) struct Repeat {
    /// What the template shows; see [`operation`].
    pub(super) shown: Vec<usize>,
    /// All that is drilled with it, too.
    pub(super) all: Vec<usize>,
    /// The way along which it comes again.
    pub(super) axis: Axis,
    /// Where the template's pencil line is on the first copy, along the axis.
    pub(super) line: f64,
    /// How the template is used, one after the other.
    pub(super) uses: Vec<TemplateUse>,
    /// Whether each use lies on the last hole of the one before.
    pub(super) is_row: bool,
}

/// One use of a template.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TemplateUse {
    /// Where its pencil line goes, from the datum of the axis, in millimetres; `None` where it lies on the last
    /// hole of the use before.
    pub(super) at: Option<f64>,
    /// The hole that it lies on.
    pub(super) on: Option<String>,
    /// The holes that are drilled, in short.
    pub(super) holes: String,
}

/// A piece of work by its place: those of the face first, then those of the edges.
pub(super) fn operation<'a>(view: &'a FaceView, index: usize) -> Option<&'a Operation> {
    let edge = index.checked_sub(view.operations.len());
    match edge {
        Some(edge) => view.edge_work.get(edge),
        None => view.operations.get(index),
    }
}

/// A few marks that belong together.
struct Cluster {
    operations: Vec<usize>,
    bounds: Bounds,
}

/// Repeated work of a face whose pages show `room`. What fits one sheet as it is is left alone.
pub(super) fn find(view: &FaceView, room: (f64, f64), taken: &[usize]) -> Vec<Repeat> {
    // What is asked for in the same words, by one feature or by several.
    let mut features: BTreeMap<(&str, &str), Vec<usize>> = BTreeMap::new();
    let edges = if view.face == Face::Front {
        &view.edge_work[..]
    } else {
        &[]
    };
    for (index, operation) in view.operations.iter().chain(edges).enumerate() {
        let is_mark = matches!(
            operation.work,
            Work::Drill(_) | Work::AngledBore(_) | Work::EdgeDrill(_)
        );
        if is_mark && !taken.contains(&index) {
            let origin = &operation.origin;
            let words = (origin.key, origin.label.as_deref().unwrap_or_default());
            features.entry(words).or_default().push(index);
        }
    }
    let mut repeats = Vec::new();
    for operations in features.into_values() {
        let clusters = clusters(view, &operations);
        let mut copies: Vec<Cluster> = Vec::new();
        for cluster in clusters {
            match row(view, &cluster, room) {
                Some(row) => repeats.push(row),
                None => copies.push(cluster),
            }
        }
        repeats.extend(copied(view, copies, room));
    }
    joined(view, repeats, room)
}

/// Repeats that come again at the same places are one.
fn joined(view: &FaceView, repeats: Vec<Repeat>, room: (f64, f64)) -> Vec<Repeat> {
    let mut joined: Vec<Repeat> = Vec::new();
    for repeat in repeats {
        let same = joined
            .iter_mut()
            .find(|other| other.goes_with(view, &repeat, room));
        match same {
            Some(other) => {
                for (use_, more) in other.uses.iter_mut().zip(&repeat.uses) {
                    use_.holes = format!("{}, {}", use_.holes, more.holes);
                }
                other.shown.extend(&repeat.shown);
                other.all.extend(&repeat.all);
            }
            None => joined.push(repeat),
        }
    }
    joined
}

fn clusters(view: &FaceView, operations: &[usize]) -> Vec<Cluster> {
    let mut clusters: Vec<Cluster> = Vec::new();
    for index in operations {
        let Some(bounds) = bounds_of(view, *index) else {
            continue;
        };
        let mut joined = Cluster {
            operations: vec![*index],
            bounds,
        };
        // What lies near the new one joins it, and so do those that it brings together.
        loop {
            let near = clusters
                .iter()
                .position(|other| other.bounds.overlaps(joined.bounds.grown(TOGETHER), 0.0));
            let Some(near) = near else { break };
            let other = clusters.remove(near);
            joined.operations.extend(other.operations);
            joined.bounds = joined.bounds.union(other.bounds);
        }
        joined.operations.sort_unstable();
        clusters.push(joined);
    }
    clusters.sort_by_key(|cluster| cluster.operations[0]);
    clusters
}

/// The box around a piece of work.
pub(super) fn bounds_of(view: &FaceView, index: usize) -> Option<Bounds> {
    let operation = operation(view, index)?;
    work_box(operation).or_else(|| work_box_of_edge(view, operation))
}

fn centre(view: &FaceView, index: usize) -> Point {
    match operation(view, index).map(|operation| &operation.work) {
        Some(Work::Drill(drill)) => drill.centre,
        Some(Work::AngledBore(bore)) => bore.entry,
        Some(Work::EdgeDrill(hole)) => view_edge::outward(view, hole.edge, hole.along).0,
        _ => Point::default(),
    }
}

/// Whether one piece of work is another, moved.
fn is_moved(a: &Operation, b: &Operation, by: Point) -> bool {
    let near = |p: Point, q: Point| (p + by).distance(q) < 10.0 * LENGTH_TOLERANCE;
    let same = |p: f64, q: f64| (p - q).abs() < 1e-9;
    match (&a.work, &b.work) {
        (Work::Drill(a), Work::Drill(b)) => near(a.centre, b.centre) && is_alike(a, b),
        (Work::AngledBore(a), Work::AngledBore(b)) => {
            near(a.entry, b.entry)
                && near(a.exit, b.exit)
                && a.edge == b.edge
                && same(a.diameter, b.diameter)
                && same(a.pilot, b.pilot)
                && same(a.shoulder, b.shoulder)
                && same(a.exit_depth, b.exit_depth)
                && a.screw == b.screw
        }
        (Work::EdgeDrill(a), Work::EdgeDrill(b)) => {
            let along = if a.edge.is_upright() { by.y } else { by.x };
            a.edge == b.edge
                && (a.along + along - b.along).abs() < 10.0 * LENGTH_TOLERANCE
                && same(a.from_front, b.from_front)
                && same(a.diameter, b.diameter)
                && same(a.depth, b.depth)
        }
        _ => false,
    }
}

fn is_alike(a: &Drill, b: &Drill) -> bool {
    (a.diameter - b.diameter).abs() < 1e-9 && a.depth == b.depth && a.mouth == b.mouth
}

/// A line of evenly spaced blind or through holes that is longer than a sheet: a strip of it, which is moved on hole by
/// hole.
fn row(view: &FaceView, cluster: &Cluster, room: (f64, f64)) -> Option<Repeat> {
    let drills: Vec<(usize, &Drill)> = cluster
        .operations
        .iter()
        .filter_map(|index| match &operation(view, *index)?.work {
            Work::Drill(drill) => Some((*index, drill)),
            _ => None,
        })
        .collect();
    let box_ = Bounds::of_points(drills.iter().map(|(_, drill)| drill.centre))?;
    let axis = match (
        box_.width() < LENGTH_TOLERANCE,
        box_.height() < LENGTH_TOLERANCE,
    ) {
        (true, false) => Axis::Upward,
        (false, true) => Axis::Across,
        _ => return None,
    };
    let room = axis.of(Point::new(room.0, room.1));
    let long = axis.of(Point::new(cluster.bounds.width(), cluster.bounds.height()));
    let alike = drills.iter().all(|(_, drill)| is_alike(drill, drills[0].1));
    if drills.len() != cluster.operations.len() || drills.len() < 4 || !alike || long <= room {
        return None;
    }
    near_edge(view, axis.other(), cluster.bounds)?;
    let mut drills = drills;
    let off = |drill: &Drill| view_edge::distance(view, axis.datum(view), drill.centre);
    drills.sort_by(|a, b| off(a.1).total_cmp(&off(b.1)));
    let along: Vec<f64> = drills.iter().map(|(_, drill)| off(drill)).collect();
    let step = (along[along.len() - 1] - along[0]) / (along.len() - 1) as f64;
    let even = along
        .windows(2)
        .all(|pair| (pair[1] - pair[0] - step).abs() < 10.0 * LENGTH_TOLERANCE);
    if !even {
        return None;
    }
    let ends = drills[0].1.diameter + 2.0 * ARM + 2.0;
    let most = ((room - ends) / step).floor() as usize;
    if most < 2 {
        return None;
    }
    // As many uses as it takes, and no longer a strip than those need.
    let steps = drills.len() - 1;
    let uses = steps.div_ceil(most);
    let strip = steps.div_ceil(uses) + 1;
    let name = |index: usize| drills[index].1.id.clone();
    let mut list = Vec::new();
    let mut from = 0;
    while from < steps {
        let to = (from + strip - 1).min(steps);
        let first = if from == 0 { 0 } else { from + 1 };
        let names: Vec<String> = (first..=to).map(name).collect();
        list.push(TemplateUse {
            at: (from == 0).then_some(along[0]),
            on: (from > 0).then(|| name(from)),
            holes: short_names::joined(&names),
        });
        from = to;
    }
    Some(Repeat {
        shown: drills[..strip].iter().map(|(index, _)| *index).collect(),
        all: cluster.operations.clone(),
        axis,
        line: axis.of(drills[0].1.centre),
        uses: list,
        is_row: true,
    })
}

/// The side along which an axis ends that a box lies near to.
fn near_edge(view: &FaceView, axis: Axis, bounds: Bounds) -> Option<Edge> {
    let (low, high) = axis.sides();
    let (from, to) = axis.span(bounds);
    let (from, to) = (from, axis.size(view) - to);
    match (from <= NEAR, to <= NEAR) {
        (true, true) => Some(if from <= to { low } else { high }),
        (true, false) => Some(low),
        (false, true) => Some(high),
        (false, false) => None,
    }
}

/// Copies of one cluster along an edge, too far apart for one sheet.
fn copied(view: &FaceView, clusters: Vec<Cluster>, room: (f64, f64)) -> Vec<Repeat> {
    let mut repeats = Vec::new();
    let mut left = clusters;
    while !left.is_empty() {
        let first = left.remove(0);
        // Along the way on which it comes most often.
        let along = |way: Axis| {
            let same = left.iter().enumerate();
            same.filter(|(_, other)| moved_along(view, &first, other) == Some(way))
                .map(|(index, _)| index)
                .collect::<Vec<_>>()
        };
        let (across, upward) = (along(Axis::Across), along(Axis::Upward));
        let tries = if upward.len() > across.len() {
            [(Axis::Upward, upward), (Axis::Across, across)]
        } else {
            [(Axis::Across, across), (Axis::Upward, upward)]
        };
        for (axis, copies) in tries {
            let alike: Vec<&Cluster> = copies.iter().filter_map(|index| left.get(*index)).collect();
            let alike: Vec<&Cluster> = std::iter::once(&first).chain(alike).collect();
            if alike.len() < 2 {
                continue;
            }
            if let Some(found) = repeat(view, &alike, axis, room) {
                repeats.push(found);
                for index in copies.into_iter().rev() {
                    left.remove(index);
                }
                break;
            }
        }
    }
    repeats
}

/// The way along which one cluster is another, moved.
fn moved_along(view: &FaceView, a: &Cluster, b: &Cluster) -> Option<Axis> {
    let operations = |cluster: &Cluster| {
        let indices = cluster.operations.iter();
        indices
            .filter_map(|index| operation(view, *index))
            .collect::<Vec<_>>()
    };
    let (of_a, of_b) = (operations(a), operations(b));
    let by = centre(view, *b.operations.first()?) - centre(view, *a.operations.first()?);
    let axis = match (by.x.abs() < LENGTH_TOLERANCE, by.y.abs() < LENGTH_TOLERANCE) {
        (true, false) => Axis::Upward,
        (false, true) => Axis::Across,
        _ => return None,
    };
    let same = of_a.len() == of_b.len() && of_a.iter().zip(&of_b).all(|(a, b)| is_moved(a, b, by));
    same.then_some(axis)
}

fn repeat(view: &FaceView, alike: &[&Cluster], axis: Axis, room: (f64, f64)) -> Option<Repeat> {
    near_edge(view, axis.other(), alike[0].bounds)?;
    let whole = alike.iter().map(|c| c.bounds).reduce(Bounds::union)?;
    let fits = whole.width() + 20.0 <= room.0 && whole.height() + 20.0 <= room.1;
    // Two that each lie near an end hook over that end, which needs no pencil line.
    let at_end = |cluster: &Cluster| near_edge(view, axis, cluster.bounds).is_some();
    if fits || (alike.len() == 2 && alike.iter().any(|cluster| at_end(cluster))) {
        return None;
    }
    let line_of = |cluster: &Cluster| {
        let along = cluster.operations.iter();
        let along = along.map(|index| axis.of(centre(view, *index)));
        let ends = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
        f64::midpoint(ends.0, ends.1)
    };
    let datum = axis.datum(view);
    let off = |cluster: &Cluster| axis.distance(view, datum, line_of(cluster));
    let mut copies: Vec<&Cluster> = alike.to_vec();
    copies.sort_by(|a, b| off(a).total_cmp(&off(b)));
    let uses = copies.iter().map(|cluster| {
        let names = cluster
            .operations
            .iter()
            .map(|index| short_names::of(operation(view, *index)));
        TemplateUse {
            at: Some(off(cluster)),
            on: None,
            holes: short_names::joined(&names.collect::<Vec<_>>()),
        }
    });
    let uses = uses.collect();
    Some(Repeat {
        shown: copies[0].operations.clone(),
        all: alike.iter().flat_map(|c| c.operations.clone()).collect(),
        axis,
        line: line_of(copies[0]),
        uses,
        is_row: false,
    })
}

impl Repeat {
    /// Whether another repeat comes again at the same places, and both fit one template.
    fn goes_with(&self, view: &FaceView, other: &Repeat, room: (f64, f64)) -> bool {
        let same = |(a, b): (&TemplateUse, &TemplateUse)| match (a.at, b.at) {
            (Some(a), Some(b)) => (a - b).abs() < 10.0 * LENGTH_TOLERANCE,
            _ => false,
        };
        let shown = self.shown.iter().chain(&other.shown);
        let bounds = shown.filter_map(|index| bounds_of(view, *index));
        let Some(bounds) = bounds.reduce(Bounds::union) else {
            return false;
        };
        !self.is_row
            && !other.is_row
            && self.axis == other.axis
            && self.uses.len() == other.uses.len()
            && self.uses.iter().zip(&other.uses).all(same)
            && bounds.width() + 2.0 * NEAR_HOOK <= room.0
            && bounds.height() + 2.0 * NEAR_HOOK <= room.1
    }

    /// What is ticked off, a line for each use.
    pub(super) fn lines(&self, view: &FaceView, lengths: Lengths) -> Vec<String> {
        let edge = view.physical(self.axis.datum(view)).name();
        let drill = operation(view, self.shown[0]).map(|operation| &operation.work);
        let size = match drill {
            Some(Work::Drill(drill)) => lengths.bare(drill.diameter),
            _ => String::new(),
        };
        let place = |used: &TemplateUse| match (used.at, &used.on) {
            (Some(at), _) => format!("{} from the {edge} edge: {}", lengths.full(at), used.holes),
            (None, Some(on)) => format!(
                "cross {} over the hole {on}, a Ø{size} bit or dowel through both: {}",
                short_names::of(operation(view, self.shown[0])),
                used.holes
            ),
            (None, None) => used.holes.clone(),
        };
        self.uses.iter().map(place).collect()
    }
}
