//! Facets as triangles.

use std::collections::BTreeSet;

use jigless_model::whole::Triple;
use spade::handles::DirectedEdgeHandle;
use spade::{CdtEdge, ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation};

use crate::mesh::{Facet, Mesh, pairs};
use crate::vector::{dot, frame};

/// A corner laid flat.
#[derive(Clone, Copy)]
struct Flat {
    at: Point2<f64>,
    corner: u32,
}

impl HasPosition for Flat {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        self.at
    }
}

impl Mesh {
    /// A facet as triangles with its own corners, each of which is used; counter-clockwise as seen from outside. `None`
    /// where borders cross, which those of a closed body do not.
    pub fn triangles(&self, facet: &Facet) -> Option<Vec<[u32; 3]>> {
        if let [border] = &facet.loops[..]
            && border.len() == 3
        {
            return Some(vec![[border[0], border[1], border[2]]]);
        }
        let (first, second) = frame(facet.normal);
        let flat = |corner: u32| {
            let at: Triple = self.corners[corner as usize];
            Flat {
                at: Point2::new(dot(first, at), dot(second, at)),
                corner,
            }
        };
        let mut numbers: Vec<u32> = facet.loops.iter().flatten().copied().collect();
        numbers.sort_unstable();
        numbers.dedup();
        let index = |corner: u32| numbers.binary_search(&corner).unwrap_or_default();
        let borders = facet.loops.iter().flat_map(|border| pairs(border));
        let edges = borders.map(|(a, b)| [index(a), index(b)]).collect();
        let vertices = numbers.iter().map(|&corner| flat(corner)).collect();
        let mut crossing = false;
        let cdt =
            ConstrainedDelaunayTriangulation::<Flat>::try_bulk_load_cdt(vertices, edges, |_| {
                crossing = true;
            })
            .ok()?;
        if crossing || cdt.num_vertices() != numbers.len() {
            return None;
        }
        // A border has the facet on its left. From there it goes on over all edges that are no border.
        let directed: BTreeSet<(u32, u32)> = facet
            .loops
            .iter()
            .flat_map(|border| pairs(border))
            .collect();
        let mut triangles = Vec::new();
        let mut known = BTreeSet::new();
        let mut waiting = Vec::new();
        let ends = |edge: DirectedEdgeHandle<'_, Flat, (), CdtEdge<()>, ()>| {
            (edge.from().data().corner, edge.to().data().corner)
        };
        let mut found = 0;
        for edge in cdt.directed_edges() {
            if directed.contains(&ends(edge)) {
                waiting.extend(edge.face().as_inner());
                found += 1;
            }
        }
        if found != directed.len() {
            return None;
        }
        while let Some(face) = waiting.pop() {
            if !known.insert(face.fix().index()) {
                continue;
            }
            triangles.push(face.vertices().map(|vertex| vertex.data().corner));
            for edge in face.adjacent_edges() {
                let (a, b) = ends(edge);
                if !directed.contains(&(a, b)) && !directed.contains(&(b, a)) {
                    waiting.extend(edge.rev().face().as_inner());
                }
            }
        }
        Some(triangles)
    }
}
