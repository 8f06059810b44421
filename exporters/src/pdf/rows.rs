//! Work that a rule, a pencil and two or three numbers set out as well as paper does: a lone rounded corner, nails, and
//! evenly spaced through holes in a line that is longer than a sheet. It is a row of a table with a sketch, and needs no sheet.

use std::collections::BTreeMap;

use jigless_model::geom::{Arc, Bounds, LENGTH_TOLERANCE, Path, Point};
use jigless_model::operation::{Depth, Drill, Mouth, Work};
use jigless_model::side::Edge;
use jigless_model::view::FaceView;

use crate::drawing::measure::{Lengths, degrees};
use crate::view_edge::{self, Axis};

/// The feature whose holes may be a row: nails, and screws into a wall. Countersunk screws join one part to another, and
/// have templates.
const HOLES: &str = "hole_row";
/// The feature whose crosses are rows: nails and staples that are driven without a hole.
const FIXINGS: &str = "fixings";

/// A row of the table.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TableRow {
    /// What is done, in words.
    pub(super) words: String,
    /// Where, in view coordinates, for the sketch.
    pub(super) places: Vec<Point>,
}

/// Holes or nails in a line.
#[derive(Debug, Clone)]
pub(super) struct WorkRow {
    /// Their places in the operations of the view, from the datum of the axis onward.
    pub(super) operations: Vec<usize>,
    /// The way of the line.
    axis: Axis,
}

/// The rows of a face: all nails, and evenly spaced through holes whose line is longer than what `room` shows of it.
pub(super) fn work_rows(view: &FaceView, room: (f64, f64)) -> Vec<WorkRow> {
    let mut features: BTreeMap<(&str, usize), Vec<usize>> = BTreeMap::new();
    for (index, operation) in view.operations.iter().enumerate() {
        if let (key @ (HOLES | FIXINGS), Some(feature)) =
            (operation.origin.key, operation.origin.feature)
        {
            features.entry((key, feature)).or_default().push(index);
        }
    }
    features
        .into_iter()
        .filter_map(|((key, _), row)| {
            let row = in_line(view, row)?;
            let is_row = key == FIXINGS || is_long_row_of_holes(view, &row, room);
            is_row.then_some(row)
        })
        .collect()
}

/// Work in a line along one axis, sorted along it.
fn in_line(view: &FaceView, mut row: Vec<usize>) -> Option<WorkRow> {
    let centres: Vec<Point> = row
        .iter()
        .filter_map(|index| centre(view, *index))
        .collect();
    if centres.len() != row.len() {
        return None;
    }
    let box_ = Bounds::of_points(centres)?;
    let axis = match (
        box_.width() < LENGTH_TOLERANCE,
        box_.height() < LENGTH_TOLERANCE,
    ) {
        (true, _) => Axis::Upward,
        (false, true) => Axis::Across,
        _ => return None,
    };
    let off = |index: &usize| {
        let at = centre(view, *index);
        at.map_or(0.0, |at| view_edge::distance(view, axis.datum(view), at))
    };
    row.sort_by(|a, b| off(a).total_cmp(&off(b)));
    Some(WorkRow {
        operations: row,
        axis,
    })
}

fn is_long_row_of_holes(view: &FaceView, row: &WorkRow, room: (f64, f64)) -> bool {
    let drills: Vec<&Drill> = row
        .operations
        .iter()
        .filter_map(|index| drill(view, *index))
        .collect();
    let is_joint = |d: &Drill| matches!(d.mouth, Some(Mouth::Countersink { .. }));
    let alike = |a: &Drill, b: &Drill| {
        (a.diameter - b.diameter).abs() < 1e-9 && a.depth == b.depth && a.mouth == b.mouth
    };
    let plain = drills.len() == row.operations.len()
        && drills.len() >= 2
        && drills
            .iter()
            .all(|d| d.depth == Depth::Through && !is_joint(d) && alike(d, drills[0]));
    let places = row.places(view);
    let long = match (places.first(), places.last()) {
        (Some(first), Some(last)) => last - first,
        _ => 0.0,
    };
    plain && row.step(view).is_some() && long > row.axis.of(Point::new(room.0, room.1))
}

fn drill<'a>(view: &'a FaceView, index: usize) -> Option<&'a Drill> {
    match &view.operations.get(index)?.work {
        Work::Drill(drill) => Some(drill),
        _ => None,
    }
}

fn centre(view: &FaceView, index: usize) -> Option<Point> {
    match &view.operations.get(index)?.work {
        Work::Drill(drill) => Some(drill.centre),
        Work::Mark(mark) => {
            let lines = mark.lines.iter().filter_map(Path::bounds);
            lines.reduce(Bounds::union).map(Bounds::centre)
        }
        _ => None,
    }
}

impl WorkRow {
    /// How far its work lies from the datum of its axis.
    fn places(&self, view: &FaceView) -> Vec<f64> {
        let datum = self.axis.datum(view);
        let centres = self
            .operations
            .iter()
            .filter_map(|index| centre(view, *index));
        centres
            .map(|at| view_edge::distance(view, datum, at))
            .collect()
    }

    /// From one to the next, where all are evenly spaced.
    fn step(&self, view: &FaceView) -> Option<f64> {
        let places = self.places(view);
        let (first, last) = (places.first()?, places.last()?);
        if places.len() < 2 {
            return None;
        }
        let step = (last - first) / (places.len() - 1) as f64;
        let even = |pair: &[f64]| (pair[1] - pair[0] - step).abs() < 10.0 * LENGTH_TOLERANCE;
        places.windows(2).all(even).then_some(step)
    }

    /// The row in words and for a sketch.
    pub(super) fn table_row(&self, view: &FaceView, lengths: Lengths) -> Option<TableRow> {
        let centres: Vec<Point> = self
            .operations
            .iter()
            .filter_map(|index| centre(view, *index))
            .collect();
        let first = *centres.first()?;
        let beside = nearer(view, self.axis.other(), first);
        let begin = self.axis.datum(view);
        let name = |edge: Edge| view.physical(edge).name();
        let off = |at: &Point| lengths.bare(view_edge::distance(view, begin, *at));
        let along =
            if let (Some(step), [first, _, .., last]) = (self.step(view), centres.as_slice()) {
                format!(
                    "the first {} from the {} edge, then every {}, the last {}",
                    off(first),
                    name(begin),
                    lengths.bare(step),
                    off(last)
                )
            } else {
                let places: Vec<String> = centres.iter().map(off).collect();
                format!("{} from the {} edge", places.join(", "), name(begin))
            };
        let words = format!(
            "{} ({} face), {} from the {} edge; {along}",
            self.what(view, lengths)?,
            view.face.name(),
            lengths.bare(view_edge::distance(view, beside, first)),
            name(beside),
        );
        Some(TableRow {
            words,
            places: centres,
        })
    }

    /// What is drilled or driven.
    fn what(&self, view: &FaceView, lengths: Lengths) -> Option<String> {
        let operation = view.operations.get(*self.operations.first()?)?;
        let label = operation.origin.label.as_deref();
        let count = self.operations.len();
        let Some(first) = drill(view, self.operations[0]) else {
            return Some(format!("{count} × {}, no hole", label.unwrap_or("nails")));
        };
        let last = drill(view, *self.operations.last()?)?;
        let mouth = match first.mouth {
            Some(Mouth::Counterbore { diameter, depth }) => format!(
                " after a counterbore Ø{} STOP {}",
                lengths.bare(diameter),
                lengths.depth(depth)
            ),
            Some(Mouth::Countersink { diameter, angle }) => format!(
                ", countersunk Ø{} {}",
                lengths.bare(diameter),
                degrees(angle)
            ),
            None => String::new(),
        };
        Some(format!(
            "{count} holes Ø{} THROUGH{mouth}{}: {} to {}",
            lengths.bare(first.diameter),
            label.map(|label| format!(", {label}")).unwrap_or_default(),
            first.id,
            last.id,
        ))
    }
}

/// The side of the view where an axis begins or ends that lies nearer to a point.
fn nearer(view: &FaceView, axis: Axis, point: Point) -> Edge {
    let (low, high) = axis.sides();
    if view_edge::distance(view, low, point) <= view_edge::distance(view, high, point) {
        low
    } else {
        high
    }
}

/// A rounded corner of the rectangle: the corner and its radius, where an arc runs from one side to the next and touches
/// both.
pub(super) fn rounded_corner(view: &FaceView, arc: &Arc) -> Option<(Edge, Edge, f64)> {
    let (centre, radius) = (arc.centre(), arc.radius());
    let across = nearer(view, Axis::Across, centre);
    let upward = nearer(view, Axis::Upward, centre);
    let off = |edge: Edge| (view_edge::distance(view, edge, centre) - radius).abs();
    let quarter = (arc.sweep().abs() - std::f64::consts::FRAC_PI_2).abs() < 1e-6;
    let is_round = quarter && off(across) < LENGTH_TOLERANCE && off(upward) < LENGTH_TOLERANCE;
    is_round.then_some((across, upward, radius))
}

/// The rows of some rounded corners, those of one radius together.
pub(super) fn corner_rows(
    view: &FaceView,
    corners: &[(Edge, Edge, f64)],
    lengths: Lengths,
) -> Vec<TableRow> {
    let mut rows: Vec<(f64, Vec<String>, Vec<Point>)> = Vec::new();
    for (across, upward, radius) in corners {
        let name = format!(
            "{}-{}",
            view.physical(*upward).name(),
            view.physical(*across).name()
        );
        let place = Point::new(
            if *across == Edge::Left {
                0.0
            } else {
                view.width
            },
            if *upward == Edge::Bottom {
                0.0
            } else {
                view.height
            },
        );
        match rows
            .iter_mut()
            .find(|(other, ..)| (other - radius).abs() < 1e-6)
        {
            Some((_, names, places)) => {
                names.push(name);
                places.push(place);
            }
            None => rows.push((*radius, vec![name], vec![place])),
        }
    }
    rows.into_iter()
        .map(|(radius, names, places)| TableRow {
            words: format!(
                "round the {} corner{} to R{}: compass point {} from both edges",
                names.join(", "),
                if names.len() > 1 { "s" } else { "" },
                lengths.bare(radius),
                lengths.bare(radius)
            ),
            places,
        })
        .collect()
}
