//! Leaving out segments on which a controller stutters.

use jigless_model::geom::{Path, Vertex};

/// The shortest segment that is written, in millimetres. Controllers stutter on shorter ones, and some refuse them.
/// Common practice, no source.
pub(super) const SHORTEST_SEGMENT: f64 = 0.05;

/// The path without segments shorter than [`SHORTEST_SEGMENT`], each of which shrinks to one of its ends: to the end of
/// an arc where it adjoins one. A path too small to do without them stays as it is.
pub(super) fn without(path: &Path) -> Path {
    let mut vertices: Vec<Vertex> = path.vertices.clone();
    let fewest = if path.closed { 3 } else { 2 };
    let mut i = 0;
    while i < vertices.len() && vertices.len() > fewest {
        let count = vertices.len();
        let next = (i + 1) % count;
        let last_of_open = !path.closed && i + 1 == count;
        if last_of_open || length_of_segment(&vertices, i) >= SHORTEST_SEGMENT {
            i += 1;
            continue;
        }
        let before = (i + count - 1) % count;
        let after_arc = vertices[before].bulge != 0.0 && (path.closed || i > 0);
        let keeps_open_end = !path.closed && (i == 0 || next + 1 == count);
        let keep_first = if keeps_open_end { i == 0 } else { after_arc };
        if keep_first {
            vertices[i].bulge = vertices[next].bulge;
            vertices.remove(next);
        } else {
            vertices.remove(i);
        }
        // The segment before may have become another one; look again from there.
        i = i.saturating_sub(1);
    }
    let cleaned = Path {
        vertices,
        closed: path.closed,
    };
    let is_clean = cleaned.segments().all(|s| s.length() >= SHORTEST_SEGMENT);
    if is_clean { cleaned } else { path.clone() }
}

fn length_of_segment(vertices: &[Vertex], index: usize) -> f64 {
    let next = (index + 1) % vertices.len();
    let pair = Path {
        vertices: vec![vertices[index], vertices[next]],
        closed: false,
    };
    pair.length()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{Bounds, Point, rectangle, rounded_rectangle};

    fn closed(points: &[(f64, f64)]) -> Path {
        Path::of_points(points.iter().map(|&(x, y)| Point::new(x, y)), true)
    }

    #[test]
    fn a_short_segment_shrinks_to_a_corner() {
        let path = closed(&[
            (0.0, 0.0),
            (40.0, 0.0),
            (40.03, 0.02),
            (40.0, 30.0),
            (0.0, 30.0),
            (0.0, 0.01),
        ]);
        let cleaned = without(&path);
        assert_eq!(cleaned.vertices.len(), 4);
        assert!(cleaned.closed);
        assert!(cleaned.segments().all(|s| s.length() >= SHORTEST_SEGMENT));
        assert!((cleaned.area() - 1200.0).abs() < 2.0);
    }

    #[test]
    fn an_arc_keeps_its_ends_where_a_short_line_follows() {
        let mut path = rounded_rectangle(Bounds::of_size(40.0, 30.0), 5.0);
        let arc = path.vertices.iter().position(|v| v.bulge != 0.0).unwrap();
        let end = path.vertices[arc + 1].point;
        path.vertices.insert(
            arc + 2,
            Vertex {
                point: end + Point::new(0.0, 0.01),
                bulge: 0.0,
            },
        );
        let cleaned = without(&path);
        assert_eq!(cleaned.vertices.len(), 8);
        assert_eq!(cleaned.vertices[arc + 1].point, end);
    }

    #[test]
    fn sound_paths_stay_as_they_are() {
        for path in [
            rounded_rectangle(Bounds::of_size(40.0, 30.0), 5.0),
            rectangle(Bounds::of_size(0.03, 0.03)),
            Path::line(Point::default(), Point::new(0.01, 0.0)),
        ] {
            assert_eq!(without(&path), path);
        }
    }
}
