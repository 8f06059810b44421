//! Work that a rule, a pencil and two or three numbers set out as well as paper does: a lone rounded corner, and evenly
//! spaced through holes in a line that is longer than a sheet. It is a row of a table with a sketch, and needs no sheet.

use std::collections::BTreeMap;

use jigless_model::geom::{Arc, Bounds, LENGTH_TOLERANCE, Point};
use jigless_model::operation::{Depth, Drill, Mouth, Work};
use jigless_model::side::Edge;
use jigless_model::view::FaceView;

use crate::drawing::measure::{Lengths, degrees};
use crate::view_edge::{self, Axis};

/// The feature whose holes may be a row: nails, and screws into a wall. Countersunk screws join one part to another, and
/// have templates.
const ROW: &str = "hole_row";

/// A row of the table.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TableRow {
    /// What is done, in words.
    pub(super) words: String,
    /// Where, in view coordinates, for the sketch.
    pub(super) places: Vec<Point>,
}

/// Evenly spaced through holes in a line.
#[derive(Debug, Clone)]
pub(super) struct HoleRow {
    /// Their places in the operations of the view, from one end of the line to the other.
    pub(super) operations: Vec<usize>,
    /// The way of the line.
    axis: Axis,
    step: f64,
}

/// The rows of holes of a face that are longer than what `room` shows of it.
pub(super) fn hole_rows(view: &FaceView, room: (f64, f64)) -> Vec<HoleRow> {
    let mut features: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (index, operation) in view.operations.iter().enumerate() {
        if let (ROW, Some(feature)) = (operation.origin.key, operation.origin.feature) {
            features.entry(feature).or_default().push(index);
        }
    }
    let rows = features.into_values().filter_map(|mut row| {
        let drills = row.iter().filter_map(|index| drill(view, *index));
        let drills: Vec<&Drill> = drills.collect();
        let plain = drills.len() == row.len() && drills.len() >= 2;
        let is_joint = |d: &Drill| matches!(d.mouth, Some(Mouth::Countersink { .. }));
        let alike = |a: &Drill, b: &Drill| {
            (a.diameter - b.diameter).abs() < 1e-9 && a.depth == b.depth && a.mouth == b.mouth
        };
        if !plain
            || is_joint(drills[0])
            || drills
                .iter()
                .any(|d| d.depth != Depth::Through || !alike(d, drills[0]))
        {
            return None;
        }
        let box_ = Bounds::of_points(drills.iter().map(|drill| drill.centre))?;
        let axis = match (
            box_.width() < LENGTH_TOLERANCE,
            box_.height() < LENGTH_TOLERANCE,
        ) {
            (true, false) => Axis::Upward,
            (false, true) => Axis::Across,
            _ => return None,
        };
        let long = axis.of(Point::new(box_.width(), box_.height()));
        if long <= axis.of(Point::new(room.0, room.1)) {
            return None;
        }
        let along = |index: &usize| drill(view, *index).map_or(0.0, |d| axis.of(d.centre));
        row.sort_by(|a, b| along(a).total_cmp(&along(b)));
        let step = long / (row.len() - 1) as f64;
        let even = row
            .windows(2)
            .all(|pair| (along(&pair[1]) - along(&pair[0]) - step).abs() < 10.0 * LENGTH_TOLERANCE);
        even.then_some(HoleRow {
            operations: row,
            axis,
            step,
        })
    });
    rows.collect()
}

fn drill<'a>(view: &'a FaceView, index: usize) -> Option<&'a Drill> {
    match &view.operations.get(index)?.work {
        Work::Drill(drill) => Some(drill),
        _ => None,
    }
}

impl HoleRow {
    /// The row in words and for a sketch.
    pub(super) fn table_row(&self, view: &FaceView, lengths: Lengths) -> Option<TableRow> {
        let holes: Vec<&Drill> = self
            .operations
            .iter()
            .filter_map(|index| drill(view, *index))
            .collect();
        let (first, last) = (holes.first()?, holes.last()?);
        let beside = nearer(view, self.axis.other(), first.centre);
        let (begin, _) = self.axis.sides();
        let label = self.operations.first().and_then(|index| {
            let operation = view.operations.get(*index)?;
            operation.origin.label.clone()
        });
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
        let name = |edge: Edge| view.physical(edge).name();
        let words = format!(
            "{} holes Ø{} THROUGH{mouth}{}: {} to {} ({} face), {} from the {} edge; the first {} from the {} edge, then \
             every {}, the last {}",
            holes.len(),
            lengths.bare(first.diameter),
            label.map(|label| format!(", {label}")).unwrap_or_default(),
            first.id,
            last.id,
            view.face.name(),
            lengths.bare(view_edge::distance(view, beside, first.centre)),
            name(beside),
            lengths.bare(view_edge::distance(view, begin, first.centre)),
            name(begin),
            lengths.bare(self.step),
            lengths.bare(view_edge::distance(view, begin, last.centre)),
        );
        Some(TableRow {
            words,
            places: holes.iter().map(|hole| hole.centre).collect(),
        })
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
