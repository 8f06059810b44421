//! Paths as the polylines of the library that cuts and offsets them.

use cavalier_contours::polyline::{PlineCreation, PlineSource, PlineSourceMut, Polyline};

use super::{LENGTH_TOLERANCE, Path, Point, Vertex};

pub(super) fn to_polyline(path: &Path) -> Polyline<f64> {
    let mut polyline = Polyline::with_capacity(path.vertices.len(), path.closed);
    for vertex in &path.vertices {
        polyline.add(vertex.point.x, vertex.point.y, vertex.bulge);
    }
    polyline
}

pub(super) fn from_polyline(polyline: &Polyline<f64>) -> Path {
    let cleaned = polyline
        .remove_repeat_pos(LENGTH_TOLERANCE)
        .unwrap_or_else(|| polyline.clone());
    let cleaned = cleaned
        .remove_redundant(LENGTH_TOLERANCE)
        .unwrap_or(cleaned);
    let vertices = cleaned
        .iter_vertexes()
        .map(|v| Vertex {
            point: Point::new(v.x, v.y),
            bulge: v.bulge,
        })
        .collect();
    Path {
        vertices,
        closed: cleaned.is_closed(),
    }
}
