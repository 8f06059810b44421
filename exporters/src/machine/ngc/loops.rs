//! What tools follow: parallels of contours, clearings of areas, and detours into corners.

use jigless_model::geom::{Path, Point, Segment, Vertex};
use jigless_model::operation::ContourSide;

/// A tool may be as wide as the slot; this share of its radius keeps arithmetic from calling that too wide.
const SNUG: f64 = 0.999_9;

/// Loops that clear an area, from the innermost out. Each level lies inside the next one.
pub(super) fn clearing(border: &Path, radius: f64, step: f64) -> Vec<Vec<Path>> {
    /// More levels than any sheet holds.
    const MOST: usize = 5000;
    let border = border.normalised(true);
    let mut levels = Vec::new();
    for level in 0..MOST {
        let away = radius * SNUG + step * level as f64;
        let loops = border.parallels(-away);
        if loops.is_empty() {
            break;
        }
        levels.push(loops);
        // What lies further in than the tool reaches from this level is all that is left.
        if border.parallels(-(away + radius * SNUG)).is_empty() {
            break;
        }
    }
    levels.reverse();
    levels
}

/// What the middle of a tool follows to cut a contour, running the way that is asked for.
pub(super) fn beside(
    contour: &Path,
    side: ContourSide,
    radius: f64,
    conventional: bool,
) -> Vec<Path> {
    let (by, climb_is_counter_clockwise) = match side {
        ContourSide::Outer => (radius, false),
        ContourSide::Inner => (-radius * SNUG, true),
    };
    let runs = climb_is_counter_clockwise != conventional;
    let all = contour.parallels(by);
    all.into_iter().map(|path| path.normalised(runs)).collect()
}

/// A loop that goes into each of some corners and back, from the vertex that is nearest.
pub(super) fn with_detours(path: &Path, into: &[Point]) -> Path {
    let mut detours: Vec<(usize, Point)> = into
        .iter()
        .filter_map(|corner| {
            let vertices = path.vertices.iter().enumerate();
            let nearest = vertices.min_by(|a, b| {
                a.1.point
                    .distance(*corner)
                    .total_cmp(&b.1.point.distance(*corner))
            });
            nearest.map(|(index, _)| (index, *corner))
        })
        .collect();
    detours.sort_by_key(|(index, _)| *index);
    let mut vertices = Vec::with_capacity(path.vertices.len() + 2 * detours.len());
    for (index, vertex) in path.vertices.iter().enumerate() {
        for (_, corner) in detours.iter().filter(|(own, _)| *own == index) {
            vertices.push(Vertex {
                point: vertex.point,
                bulge: 0.0,
            });
            vertices.push(Vertex {
                point: *corner,
                bulge: 0.0,
            });
        }
        vertices.push(*vertex);
    }
    Path {
        vertices,
        closed: path.closed,
    }
}

/// A loop that begins at its vertex nearest to a point.
pub(super) fn from_nearest(path: &Path, to: Point) -> Path {
    let vertices = path.vertices.iter().enumerate();
    let nearest = vertices
        .min_by(|a, b| a.1.point.distance(to).total_cmp(&b.1.point.distance(to)))
        .map_or(0, |(index, _)| index);
    let mut path = path.clone();
    path.vertices.rotate_left(nearest);
    path
}

/// A loop that begins so far along itself.
pub(super) fn from_length(path: &Path, along: f64) -> Path {
    let mut left = along;
    for (index, segment) in path.segments().enumerate() {
        let length = segment.length();
        if left < length - 1e-6 {
            let mut vertices = path.vertices.clone();
            vertices.rotate_left(index);
            if left > 1e-6 {
                let share = left / length;
                let (first, second) = split(&segment, share);
                vertices[0] = second;
                vertices.push(first);
            }
            return Path {
                vertices,
                closed: true,
            };
        }
        left -= length;
    }
    path.clone()
}

/// The first vertices of the two parts of a segment that is divided after a share of it.
fn split(segment: &Segment, share: f64) -> (Vertex, Vertex) {
    match segment {
        Segment::Line(a, b) => {
            let vertex = |point: Point| Vertex { point, bulge: 0.0 };
            (vertex(*a), vertex(a.toward(*b, share)))
        }
        Segment::Arc(arc) => {
            let bulge = |share: f64| (arc.sweep() * share / 4.0).tan();
            let first = Vertex {
                point: arc.from,
                bulge: bulge(share),
            };
            let second = Vertex {
                point: arc.point_at(share),
                bulge: bulge(1.0 - share),
            };
            (first, second)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{Bounds, circle, rectangle, rounded_rectangle};

    #[test]
    fn a_loop_begins_anywhere_and_stays_as_long() {
        for path in [
            rectangle(Bounds::of_size(40.0, 30.0)),
            rounded_rectangle(Bounds::of_size(40.0, 30.0), 5.0),
            circle(Point::new(3.0, 4.0), 7.0),
        ] {
            for share in [0.0, 0.1, 0.33, 0.5, 0.99] {
                let moved = from_length(&path, share * path.length());
                assert!((moved.length() - path.length()).abs() < 1e-9);
                assert!((moved.area() - path.area()).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn clearing_leaves_nothing_in_the_middle() {
        let square = rectangle(Bounds::of_size(40.0, 40.0));
        let levels = clearing(&square, 3.0, 2.4);
        let innermost = levels[0][0].bounds().unwrap();
        assert!(innermost.width() / 2.0 <= 3.0, "{innermost:?}");
        let last = levels.last().unwrap()[0].bounds().unwrap();
        assert!((last.width() - 34.0).abs() < 0.5);
        // A slot as wide as the tool has one loop.
        let slot = rectangle(Bounds::of_size(100.0, 6.0));
        assert_eq!(clearing(&slot, 3.0, 2.4).len(), 1);
        assert_eq!(clearing(&circle(Point::default(), 5.0), 3.0, 2.4).len(), 1);
    }
}
