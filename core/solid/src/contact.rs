//! Where two bodies lie against each other.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use jigless_model::geom::Point;
use jigless_model::whole::{Box3, Triple};

use crate::grid::{Contour, area, combined, node};
use crate::mesh::{Facet, Mesh};
use crate::vector::{dot, frame, minus};

/// Sides that face each other at this distance or less, in millimetres, are covered: glue fills as much, and nobody sands
/// there. Common practice, no source.
const COVERED_GAP: f64 = 0.5;

/// Facets whose normals are this near to opposite face each other.
const OPPOSITE: f64 = -1.0 + 1e-9;

/// What other bodies cover of the facets of one: contours in the plane of each facet.
#[derive(Debug, Clone, Default)]
pub(crate) struct Covered {
    /// By number of the facet.
    contours: Vec<Vec<Contour>>,
}

impl Covered {
    /// Nothing, for a body.
    pub(crate) fn none_of(mesh: &Mesh) -> Self {
        Self {
            contours: vec![Vec::new(); mesh.facets.len()],
        }
    }

    /// Adds what another body covers; both stand in their places.
    pub(crate) fn add(&mut self, mesh: &Mesh, other: &Mesh) {
        let boxes: Vec<Option<Box3>> = other
            .facets
            .iter()
            .map(|facet| around(other, facet))
            .collect();
        for (number, facet) in mesh.facets.iter().enumerate() {
            let Some(own) = around(mesh, facet) else {
                continue;
            };
            let facing = other.facets.iter().zip(&boxes).filter(|(there, bounds)| {
                let near = bounds.is_some_and(|bounds| reaches(own, bounds));
                near && dot(facet.normal, there.normal) < OPPOSITE && {
                    let apart = dot(facet.normal, minus(other.on(there), mesh.on(facet)));
                    apart.abs() <= COVERED_GAP
                }
            });
            for (there, _) in facing {
                let plane = Plane::of(mesh.on(facet), facet.normal);
                let common = combined(
                    &plane.contours(mesh, facet),
                    FillRule::EvenOdd,
                    &plane.contours(other, there),
                    OverlayRule::Intersect,
                );
                self.contours[number].extend(common);
            }
        }
    }

    /// What is covered of a facet, in square millimetres; what several bodies cover counts once.
    pub(crate) fn area(&self, facet: usize) -> f64 {
        let all = &self.contours[facet];
        if all.is_empty() {
            return 0.0;
        }
        area(&combined(all, FillRule::NonZero, &[], OverlayRule::Subject)).abs()
    }
}

/// A plane with two axes of its own.
struct Plane {
    origin: Triple,
    axes: (Triple, Triple),
}

impl Plane {
    fn of(origin: Triple, normal: Triple) -> Self {
        Self {
            origin,
            axes: frame(normal),
        }
    }

    fn contours(&self, mesh: &Mesh, facet: &Facet) -> Vec<Contour> {
        let flat = |corner: Triple| {
            let from = minus(corner, self.origin);
            node(Point::new(dot(self.axes.0, from), dot(self.axes.1, from)))
        };
        let borders = facet.loops.iter();
        borders
            .map(|border| mesh.border(border).map(flat).collect())
            .collect()
    }
}

fn around(mesh: &Mesh, facet: &Facet) -> Option<Box3> {
    let corners = facet.loops.iter().flat_map(|border| mesh.border(border));
    corners
        .map(|corner| Box3::new(corner, corner))
        .reduce(Box3::union)
}

fn reaches(one: Box3, other: Box3) -> bool {
    (0..3).all(|axis| {
        one.min[axis] <= other.max[axis] + COVERED_GAP
            && other.min[axis] <= one.max[axis] + COVERED_GAP
    })
}
