//! A body cut off at a plane.

use std::collections::BTreeMap;

use jigless_model::whole::Triple;

use crate::mesh::{Facet, Mesh, outer_edges, pairs};
use crate::vector::{along, cross, dot, minus};

/// Corners this near to the plane, in millimetres, lie on it.
const ON_PLANE: f64 = 1e-6;

/// What of a body lies behind a plane: where `normal . (point - on)` is negative. The cut is closed by a flat facet.
pub fn behind(mesh: &Mesh, on: Triple, normal: Triple) -> Mesh {
    let heights: Vec<f64> = mesh
        .corners
        .iter()
        .map(|corner| dot(normal, minus(*corner, on)))
        .collect();
    let side = |corner: u32| {
        let height = heights[corner as usize];
        if height.abs() <= ON_PLANE {
            0
        } else if height < 0.0 {
            -1
        } else {
            1
        }
    };
    if !(0..mesh.corners.len() as u32).any(|corner| side(corner) > 0) {
        return mesh.clone();
    }
    let mut corners = mesh.corners.clone();
    let mut crossings: BTreeMap<(u32, u32), u32> = BTreeMap::new();
    let mut on_plane: Vec<u32> = (0..corners.len() as u32)
        .filter(|c| side(*c) == 0)
        .collect();
    let mut kept: Vec<(usize, Vec<(u32, u32)>)> = Vec::new();
    for (number, facet) in mesh.facets.iter().enumerate() {
        let mut edges = Vec::new();
        for (a, b) in facet.loops.iter().flat_map(|border| pairs(border)) {
            let mut crossing = || {
                *crossings.entry((a.min(b), a.max(b))).or_insert_with(|| {
                    let (low, high) = (a.min(b) as usize, a.max(b) as usize);
                    let share = heights[low] / (heights[low] - heights[high]);
                    let way = minus(corners[high], corners[low]);
                    corners.push(along(corners[low], way, share));
                    on_plane.push(corners.len() as u32 - 1);
                    corners.len() as u32 - 1
                })
            };
            match (side(a), side(b)) {
                (-1, 1) => edges.push((a, crossing())),
                (1, -1) => edges.push((crossing(), b)),
                (-1, _) | (_, -1) => edges.push((a, b)),
                _ => {}
            }
        }
        if !edges.is_empty() {
            kept.push((number, edges));
        }
    }
    let mut result = Mesh {
        corners,
        facets: Vec::new(),
    };
    let mut rim = Vec::new();
    for (number, mut edges) in kept {
        let facet = &mesh.facets[number];
        let along_cut = cross(facet.normal, normal);
        let closing = closing(&result, &edges, along_cut, &on_plane);
        rim.extend(closing.iter().map(|(a, b)| (*b, *a)));
        edges.extend(closing);
        let loops = result.chained(edges, facet.normal);
        result.facets.push(Facet {
            loops,
            ..facet.clone()
        });
    }
    let rim = outer_edges(rim.into_iter());
    if !rim.is_empty() {
        let loops = result.chained(rim, normal);
        result.facets.push(Facet {
            loops,
            normal,
            curved: false,
        });
    }
    result.merged()
}

/// The edges along the cut that close the borders of a facet again.
fn closing(mesh: &Mesh, edges: &[(u32, u32)], way: Triple, on_plane: &[u32]) -> Vec<(u32, u32)> {
    // More edges arriving than leaving: an edge must begin here.
    let mut balance: BTreeMap<u32, i32> = BTreeMap::new();
    for (a, b) in edges {
        *balance.entry(*a).or_default() -= 1;
        *balance.entry(*b).or_default() += 1;
    }
    let place = |corner: u32| dot(way, mesh.corners[corner as usize]);
    let mut ends: Vec<u32> = balance
        .iter()
        .filter(|(_, balance)| **balance != 0)
        .map(|(corner, _)| *corner)
        .collect();
    ends.sort_by(|a, b| place(*a).total_cmp(&place(*b)));
    let mut added = Vec::new();
    for pair in ends.chunks(2) {
        let [a, b] = *pair else { continue };
        let (from, to) = if balance[&a] > 0 { (a, b) } else { (b, a) };
        let mut between: Vec<u32> = on_plane
            .iter()
            .copied()
            .filter(|corner| ![a, b].contains(corner) && lies_between(mesh, *corner, a, b))
            .collect();
        between.sort_by(|x, y| place(*x).total_cmp(&place(*y)));
        if balance[&a] <= 0 {
            between.reverse();
        }
        let mut chain = vec![from];
        chain.extend(between);
        chain.push(to);
        added.extend(chain.windows(2).map(|pair| (pair[0], pair[1])));
    }
    added
}

fn lies_between(mesh: &Mesh, corner: u32, a: u32, b: u32) -> bool {
    let [p, a, b] = [corner, a, b].map(|corner| mesh.corners[corner as usize]);
    let way = minus(b, a);
    let share = dot(minus(p, a), way) / dot(way, way);
    let off = minus(p, along(a, way, share));
    share > 0.0 && share < 1.0 && dot(off, off) < ON_PLANE * ON_PLANE
}
