//! A line that begins beside itself: the way in, once around, and an end where the way in came to it.

use jigless_model::geom::{Path, Point, Vertex};

/// Ends nearer than this, in millimetres, meet.
const NEAR: f64 = 1e-6;

/// A closed line with a way in from a point to its first vertex.
pub(super) fn with(path: &Path, from: Point) -> Path {
    let straight = |point: Point| Vertex { point, bulge: 0.0 };
    let mut vertices = vec![straight(from)];
    vertices.extend(path.vertices.iter().copied());
    vertices.extend(path.vertices.first().map(|first| straight(first.point)));
    Path {
        vertices,
        closed: false,
    }
}

/// The closed line, without its way in if it has one; `None` for a line that is open.
pub(super) fn without(path: &Path) -> Option<Path> {
    if path.closed {
        return Some(path.clone());
    }
    let [_, met, .., last] = path.vertices.as_slice() else {
        return None;
    };
    let count = path.vertices.len();
    (count > 3 && met.point.distance(last.point) < NEAR).then(|| Path {
        vertices: path.vertices[1..count - 1].to_vec(),
        closed: true,
    })
}
