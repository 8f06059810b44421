//! Where a body is and how it is turned.

use jigless_model::whole::Triple;

use crate::mesh::{Facet, Mesh};
use crate::vector::{along, minus};

/// A rigid place: where a body's own 0,0,0 is, and where its axes run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    /// Place of 0,0,0.
    pub origin: Triple,
    /// Where x, y and z run: unit vectors square to each other, right-handed.
    pub axes: [Triple; 3],
}

impl Pose {
    /// A body that stands where its own coordinates say.
    pub const HOME: Pose = Pose {
        origin: [0.0; 3],
        axes: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
    };

    /// From where 0,0,0 and the ends of the three unit vectors come to lie.
    pub fn of_axes(origin: Triple, x: Triple, y: Triple, z: Triple) -> Self {
        Self {
            origin,
            axes: [x, y, z].map(|end| minus(end, origin)),
        }
    }

    /// A point of the body.
    pub fn point(&self, own: Triple) -> Triple {
        self.turned(own, self.origin)
    }

    /// A vector of the body.
    pub fn vector(&self, own: Triple) -> Triple {
        self.turned(own, [0.0; 3])
    }

    fn turned(&self, own: Triple, from: Triple) -> Triple {
        (0..3).fold(from, |sum, i| along(sum, self.axes[i], own[i]))
    }

    /// The body in its place.
    pub fn mesh(&self, own: &Mesh) -> Mesh {
        Mesh {
            corners: own
                .corners
                .iter()
                .map(|corner| self.point(*corner))
                .collect(),
            facets: own
                .facets
                .iter()
                .map(|facet| Facet {
                    normal: self.vector(facet.normal),
                    ..facet.clone()
                })
                .collect(),
        }
    }

    /// The same, moved.
    #[must_use]
    pub fn moved(self, by: Triple) -> Pose {
        Pose {
            origin: along(self.origin, by, 1.0),
            ..self
        }
    }

    /// The same, turned about an upright axis through a point, in radians, counter-clockwise as seen from above.
    #[must_use]
    pub fn swung(self, about: Triple, angle: f64) -> Pose {
        let (sin, cos) = angle.sin_cos();
        // From above, z runs toward the reader and x to the right: x turns toward -z.
        let turn = |v: Triple| [v[0] * cos + v[2] * sin, v[1], v[2] * cos - v[0] * sin];
        Pose {
            origin: along(about, turn(minus(self.origin, about)), 1.0),
            axes: self.axes.map(turn),
        }
    }
}
