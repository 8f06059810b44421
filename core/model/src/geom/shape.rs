//! Shapes that features are made of.

use super::{Arc, Bounds, LENGTH_TOLERANCE, Path, Point, Vertex};

/// An upright rectangle, counter-clockwise from its lower left corner.
pub fn rectangle(bounds: Bounds) -> Path {
    let Bounds { min, max } = bounds;
    Path::of_points(
        [min, Point::new(max.x, min.y), max, Point::new(min.x, max.y)],
        true,
    )
}

/// An upright rectangle whose four corners are rounded with one radius (0 for square corners).
///
/// The radius must be no more than half of either side.
pub fn rounded_rectangle(bounds: Bounds, radius: f64) -> Path {
    let square = rectangle(bounds);
    // A radius that fits never fails; one that does not has been refused where it was read.
    rounded(&square, &[radius; 4]).unwrap_or(square)
}

/// A full circle, counter-clockwise, as two half circles.
pub fn circle(centre: Point, radius: f64) -> Path {
    let half = |x: f64| Vertex {
        point: Point::new(centre.x + x, centre.y),
        bulge: 1.0,
    };
    Path {
        vertices: vec![half(-radius), half(radius)],
        closed: true,
    }
}

/// Why a corner could not be rounded.
#[derive(Debug, Clone, PartialEq)]
pub enum RoundingFault {
    /// The radii at the two ends of a straight segment need more than its length: index of the vertex it leaves,
    /// its length and what is needed, in millimetres.
    TooLong {
        /// Index of the vertex.
        vertex: usize,
        /// Length of the segment that leaves it.
        available: f64,
        /// Length that the two roundings take.
        needed: f64,
    },
    /// A radius was asked for at a vertex that touches an arc.
    BesideArc {
        /// Index of the vertex.
        vertex: usize,
    },
}

/// The path with each corner replaced by a tangent arc of the given radius (0 leaves the corner).
///
/// `radii` has one entry for each vertex. At an open path's ends the radius is ignored.
///
/// # Errors
/// When the arcs do not fit into the sides, or a rounded corner touches an arc.
///
/// # Panics
/// Never for `radii` of the path's length; indexing panics otherwise.
pub fn rounded(path: &Path, radii: &[f64]) -> Result<Path, RoundingFault> {
    let count = path.vertices.len();
    let inner = |i: usize| path.closed || (i > 0 && i + 1 < count);
    let before = |i: usize| (i + count - 1) % count;
    let after = |i: usize| (i + 1) % count;

    // How far the arc at a corner reaches along its two sides: r tan(turn / 2).
    let mut reach = vec![0.0; count];
    for (i, &radius) in radii.iter().enumerate() {
        if radius <= 0.0 || !inner(i) {
            continue;
        }
        if path.vertices[before(i)].bulge != 0.0 || path.vertices[i].bulge != 0.0 {
            return Err(RoundingFault::BesideArc { vertex: i });
        }
        reach[i] = radius * (turn_at(path, i, before(i), after(i)).abs() / 2.0).tan();
    }
    for i in 0..count {
        if !path.closed && i + 1 == count {
            continue;
        }
        let available = path.vertices[i]
            .point
            .distance(path.vertices[after(i)].point);
        let needed = reach[i] + reach[after(i)];
        if needed > available + LENGTH_TOLERANCE {
            return Err(RoundingFault::TooLong {
                vertex: i,
                available,
                needed,
            });
        }
    }

    let mut vertices: Vec<Vertex> = Vec::with_capacity(count * 2);
    for (i, &here) in path.vertices.iter().enumerate() {
        if reach[i] <= 0.0 {
            vertices.push(here);
            continue;
        }
        let back = (path.vertices[before(i)].point - here.point).unit();
        let ahead = (path.vertices[after(i)].point - here.point).unit();
        vertices.push(Vertex {
            point: here.point + back * reach[i],
            bulge: Arc::bulge_of_sweep(turn_at(path, i, before(i), after(i))),
        });
        vertices.push(Vertex {
            point: here.point + ahead * reach[i],
            bulge: 0.0,
        });
    }
    // Two roundings that use up a whole side leave a straight piece of no length.
    let mut rounded = Path {
        vertices,
        closed: path.closed,
    };
    drop_empty_segments(&mut rounded);
    Ok(rounded)
}

/// The turn at vertex `i` in radians, positive to the left.
fn turn_at(path: &Path, i: usize, before: usize, after: usize) -> f64 {
    let arriving = path.vertices[i].point - path.vertices[before].point;
    let leaving = path.vertices[after].point - path.vertices[i].point;
    arriving.cross(leaving).atan2(arriving.dot(leaving))
}

/// Takes out vertices whose segment has no length.
fn drop_empty_segments(path: &mut Path) {
    let count = path.vertices.len();
    let keep: Vec<bool> = (0..count)
        .map(|i| {
            let last_of_open = !path.closed && i + 1 == count;
            let next = path.vertices[(i + 1) % count].point;
            last_of_open || path.vertices[i].point.distance(next) > LENGTH_TOLERANCE
        })
        .collect();
    let mut kept = keep.iter();
    path.vertices.retain(|_| *kept.next().unwrap_or(&true));
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    #[test]
    fn full_radii_make_a_circle_of_four_arcs() {
        let path = rounded_rectangle(Bounds::of_size(40.0, 40.0), 20.0);
        assert_eq!(path.vertices.len(), 4);
        assert!((path.area() - PI * 400.0).abs() < 1e-9);
    }

    #[test]
    fn a_radius_that_does_not_fit_says_by_how_much() {
        let square = rectangle(Bounds::of_size(40.0, 30.0));
        let fault = rounded(&square, &[20.0, 20.0, 0.0, 0.0]);
        assert!(fault.is_ok());
        let fault = rounded(&square, &[21.0, 20.0, 0.0, 0.0]).unwrap_err();
        let RoundingFault::TooLong {
            vertex,
            available,
            needed,
        } = fault
        else {
            panic!("{fault:?}");
        };
        assert_eq!((vertex, available), (0, 40.0));
        assert!((needed - 41.0).abs() < 1e-9);
    }

    #[test]
    fn an_inside_corner_turns_the_other_way() {
        let l_shape = Path::of_points(
            [
                (0.0, 0.0),
                (40.0, 0.0),
                (40.0, 20.0),
                (20.0, 20.0),
                (20.0, 40.0),
                (0.0, 40.0),
            ]
            .map(|(x, y)| Point::new(x, y)),
            true,
        );
        let path = rounded(&l_shape, &[0.0, 0.0, 0.0, 5.0, 0.0, 0.0]).unwrap();
        // The rounding fills the inside corner: area grows by r^2 (1 - pi/4).
        assert!((path.area() - (1200.0 + 25.0 * (1.0 - PI / 4.0))).abs() < 1e-9);
        assert!(path.vertices.iter().any(|v| v.bulge < 0.0));
    }
}
