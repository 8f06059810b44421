//! The surface of a body as triangles for graphics: each facet has corners of its own, so that its normal is its own.

use std::collections::BTreeMap;

use jigless_model::whole::Triple;
use jigless_solid::{Mesh, Solid};

/// The surface of a body.
#[derive(Debug, Default)]
pub(crate) struct Surface {
    /// Where the corners are, in millimetres.
    pub(crate) places: Vec<Triple>,
    /// The normal at each corner.
    pub(crate) normals: Vec<Triple>,
    /// Numbers of corners, three for each triangle, counter-clockwise as seen from outside.
    pub(crate) triangles: Vec<u32>,
    /// For each corner of the body, one of the corners here.
    own: BTreeMap<u32, u32>,
}

impl Surface {
    /// The surface of a body.
    ///
    /// # Errors
    /// When a facet cannot be cut into triangles; `name` says whose it is.
    pub(crate) fn of(mesh: &Mesh, name: &str) -> Result<Self, String> {
        let mut surface = Self::default();
        for facet in &mesh.facets {
            let triangles = mesh
                .triangles(facet)
                .ok_or_else(|| format!("a facet of {name} cannot be cut into triangles"))?;
            let mut numbers: BTreeMap<u32, u32> = BTreeMap::new();
            for corner in triangles.into_iter().flatten() {
                let number = *numbers.entry(corner).or_insert_with(|| {
                    surface.places.push(mesh.corners[corner as usize]);
                    surface.normals.push(facet.normal);
                    surface.places.len() as u32 - 1
                });
                surface.triangles.push(number);
            }
            surface.own.append(&mut numbers);
        }
        Ok(surface)
    }

    /// The edges to draw of a body, two corners each: not the seams of curved surfaces.
    pub(crate) fn edges(&self, solid: &Solid) -> Vec<u32> {
        let drawn = solid.edges.iter().filter(|edge| !edge.smooth);
        drawn
            .flat_map(|edge| edge.ends)
            .filter_map(|corner| self.own.get(&corner).copied())
            .collect()
    }
}
