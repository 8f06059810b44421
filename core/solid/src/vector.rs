//! Arithmetic on points and vectors of space.

use jigless_model::whole::Triple;

/// The difference of two points.
pub fn minus(a: Triple, b: Triple) -> Triple {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

/// A point moved by `share` times a vector.
pub fn along(a: Triple, way: Triple, share: f64) -> Triple {
    [0, 1, 2].map(|i| way[i].mul_add(share, a[i]))
}

/// The scalar product.
pub fn dot(a: Triple, b: Triple) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// The cross product, right-handed.
pub fn cross(a: Triple, b: Triple) -> Triple {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// The length of a vector.
pub fn length(a: Triple) -> f64 {
    dot(a, a).sqrt()
}

/// The vector of length 1 that points the same way; the zero vector stays as it is.
pub fn unit(a: Triple) -> Triple {
    let length = length(a);
    if length == 0.0 {
        a
    } else {
        a.map(|x| x / length)
    }
}

/// Two unit vectors that make a right-handed set with a unit vector: first, second, `way`.
pub fn frame(way: Triple) -> (Triple, Triple) {
    // The axis that the vector is furthest from keeps the cross product long.
    let least = (0..3)
        .min_by(|&i, &j| way[i].abs().total_cmp(&way[j].abs()))
        .unwrap_or(0);
    let mut axis = [0.0; 3];
    axis[least] = 1.0;
    let first = unit(cross(axis, way));
    (first, cross(way, first))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn frames_are_right_handed_and_square() {
        for way in [[0.0, 0.0, 1.0], [0.6, 0.0, -0.8], [-1.0, 0.0, 0.0]] {
            let (first, second) = frame(way);
            assert!(length(minus(cross(first, second), way)) < 1e-12);
            assert!(dot(first, second).abs() < 1e-12);
        }
    }
}
