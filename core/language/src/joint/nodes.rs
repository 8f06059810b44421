//! Feature entries as an author would write them.

use crate::build::{FeatureDraft, Keys, length, list, map, number, text};
use crate::load::Value;
use jigless_model::geom::{Bounds, Point};
use jigless_model::side::{Edge, Face};
use jigless_model::source::Span;

fn point(span: Span, point: Point) -> Value {
    crate::build::point(span, point.x, point.y)
}

pub(super) fn face_key(face: Face) -> (&'static str, Value) {
    ("face", text(face.name()))
}

/// Room for a letter of a name in a pencil outline, in millimetres: as large as any format writes it.
const LETTER: f64 = 9.0;

/// A pencil outline, with a name in it where there is room: on a narrow one it would reach over the part's edge.
pub(super) fn outline(span: Span, bounds: Bounds, face: Face, label: &str) -> Keys {
    let rectangle = [
        ("at", point(span, bounds.min)),
        ("width", length(bounds.width())),
        ("height", length(bounds.height())),
    ];
    let mut keys = vec![("box", map(span, rectangle)), face_key(face)];
    if label.chars().count() as f64 * LETTER <= bounds.width() && bounds.height() >= LETTER {
        keys.push(("text", text(label)));
    }
    keys
}

/// Holes at some points, as a row where they are evenly spaced.
pub(super) fn holes(span: Span, points: &[Point], more: &Keys) -> Vec<FeatureDraft> {
    if points.len() > 1
        && let Some(step) = even_step(points)
    {
        let mut keys = vec![
            ("first", point(span, points[0])),
            ("step", point(span, step)),
            ("count", number(points.len() as u32)),
        ];
        keys.extend(more.iter().cloned());
        return vec![("hole_row", keys)];
    }
    points
        .iter()
        .map(|at| {
            let mut keys = vec![("at", point(span, *at))];
            keys.extend(more.iter().cloned());
            ("hole", keys)
        })
        .collect()
}

fn even_step(points: &[Point]) -> Option<Point> {
    let whole = points[points.len() - 1] - points[0];
    let step = whole * (1.0 / (points.len() - 1) as f64);
    points
        .iter()
        .enumerate()
        .all(|(index, at)| at.distance(points[0] + step * index as f64) < 1e-9)
        .then_some(step)
}

/// Holes in an edge.
pub(super) fn edge_holes(
    span: Span,
    edge: Edge,
    along: &[f64],
    from_front: f64,
    diameter: f64,
    depth: f64,
) -> Keys {
    vec![
        ("edge", text(edge.name())),
        ("along", list(span, along.iter().map(|at| length(*at)))),
        ("diameter", length(diameter)),
        ("depth", length(depth)),
        ("from_front", length(from_front)),
    ]
}
