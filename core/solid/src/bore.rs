//! Round holes at any angle, cut into a facet of a body that is there already.

use std::f64::consts::TAU;

use jigless_model::whole::Triple;

use crate::grid::sides;
use crate::mesh::{Facet, Mesh};
use crate::vector::{along, cross, dot, frame, length, minus, unit};

/// Room that a mouth must have to the borders of its facet, and a hole to what else is there, in millimetres.
const CLEAR: f64 = 1e-3;

/// A round hole: an axis and how wide it is from place to place.
#[derive(Debug, Clone)]
pub(crate) struct Bore {
    /// Where the axis meets the facet that is drilled into.
    pub(crate) entry: Triple,
    /// Unit vector into the wood.
    pub(crate) way: Triple,
    /// Distance along the axis and radius there, in millimetres, in their order. Between two of them the wall is a cone; a
    /// distance that is there twice makes a shoulder. The first is at 0.
    pub(crate) stations: Vec<(f64, f64)>,
    /// Whether it goes on as it is at its last station and leaves the wood; otherwise it ends there in a flat floor.
    pub(crate) through: bool,
}

/// Cuts a hole. `false`, and nothing is done, where its mouth does not lie within one facet or it meets something else.
pub(crate) fn cut(mesh: &mut Mesh, bore: &Bore) -> bool {
    let Some(mouth) = facet_at(mesh, bore.entry, bore.way) else {
        return false;
    };
    let normal = mesh.facets[mouth].normal;
    let (first, second) = frame(bore.way);
    let widest = bore.stations.iter().map(|s| s.1).fold(0.0, f64::max);
    let count = sides(widest);
    let spokes: Vec<Triple> = (0..count)
        .map(|i| {
            let (sin, cos) = (TAU * i as f64 / count as f64).sin_cos();
            [0, 1, 2].map(|k| first[k] * cos + second[k] * sin)
        })
        .collect();
    let ring = |at: f64, radius: f64| -> Vec<Triple> {
        let centre = along(bore.entry, bore.way, at);
        spokes
            .iter()
            .map(|spoke| along(centre, *spoke, radius))
            .collect()
    };
    // The first and, where it goes through, the last ring lie in the planes of facets.
    let laid = |ring: Vec<Triple>, on: Triple, normal: Triple| -> Vec<Triple> {
        let share = |p: Triple| dot(normal, minus(on, p)) / dot(normal, bore.way);
        ring.into_iter()
            .map(|p| along(p, bore.way, share(p)))
            .collect()
    };
    let mut rings = vec![laid(ring(0.0, bore.stations[0].1), bore.entry, normal)];
    rings.extend(
        bore.stations[1..]
            .iter()
            .map(|(at, radius)| ring(*at, *radius)),
    );
    let last = bore.stations[bore.stations.len() - 1];
    let mut exit = None;
    let end = if bore.through {
        let from = along(bore.entry, bore.way, last.0);
        let Some((facet, at)) = leaves(mesh, from, bore.way) else {
            return false;
        };
        exit = Some(facet);
        let there = along(from, bore.way, at);
        rings.push(laid(
            ring(last.0 + at, last.1),
            there,
            mesh.facets[facet].normal,
        ));
        last.0 + at
    } else {
        last.0
    };
    let inside = |facet: usize, ring: &[Triple]| {
        let facet = &mesh.facets[facet];
        let clear = |p: &Triple| mesh.covers(facet, *p) && mesh.from_border(facet, *p) > CLEAR;
        ring.iter().all(clear) && !mesh.has_border_within(facet, bore.entry, bore.way, ring)
    };
    let fits =
        inside(mouth, &rings[0]) && exit.is_none_or(|exit| inside(exit, &rings[rings.len() - 1]));
    if !fits || meets_another(mesh, bore, end, [Some(mouth), exit]) {
        return false;
    }
    build(mesh, &rings, mouth, exit, bore.way);
    true
}

fn build(mesh: &mut Mesh, rings: &[Vec<Triple>], mouth: usize, exit: Option<usize>, way: Triple) {
    let count = rings[0].len();
    let numbers: Vec<Vec<u32>> = rings
        .iter()
        .map(|ring| {
            let begin = mesh.corners.len() as u32;
            mesh.corners.extend(ring);
            (begin..begin + count as u32).collect()
        })
        .collect();
    mesh.facets[mouth].loops.push(numbers[0].clone());
    for (pair, places) in numbers.windows(2).zip(rings.windows(2)) {
        let shoulder = (0..count).all(|i| dot(minus(places[1][i], places[0][i]), way).abs() < 1e-9);
        if shoulder {
            let outer: Vec<u32> = pair[0].iter().rev().copied().collect();
            mesh.facets.push(Facet {
                loops: vec![outer, pair[1].clone()],
                normal: way.map(|x| -x),
                curved: false,
            });
            continue;
        }
        for i in 0..count {
            let j = (i + 1) % count;
            let across = minus(places[0][j], places[0][i]);
            let down = minus(places[1][i], places[0][i]);
            mesh.facets.push(Facet {
                loops: vec![vec![pair[0][j], pair[0][i], pair[1][i], pair[1][j]]],
                normal: unit(cross(down, across)),
                curved: true,
            });
        }
    }
    let last: Vec<u32> = numbers[numbers.len() - 1].iter().rev().copied().collect();
    match exit {
        Some(exit) => mesh.facets[exit].loops.push(last),
        None => mesh.facets.push(Facet {
            loops: vec![last],
            normal: way.map(|x| -x),
            curved: false,
        }),
    }
}

/// The flat facet that looks against `way` and has a point.
fn facet_at(mesh: &Mesh, point: Triple, way: Triple) -> Option<usize> {
    (0..mesh.facets.len()).find(|&number| {
        let facet = &mesh.facets[number];
        let off = dot(facet.normal, minus(point, mesh.on(facet)));
        !facet.curved
            && dot(facet.normal, way) < -1e-3
            && off.abs() < 1e-4
            && mesh.covers(facet, point)
    })
}

/// The first flat facet through which a ray leaves the body, and how far along.
fn leaves(mesh: &Mesh, from: Triple, way: Triple) -> Option<(usize, f64)> {
    let mut found: Option<(usize, f64)> = None;
    for (number, facet) in mesh.facets.iter().enumerate() {
        let falls = dot(facet.normal, way);
        if falls < 1e-3 {
            continue;
        }
        let at = dot(facet.normal, minus(mesh.on(facet), from)) / falls;
        if at > CLEAR
            && found.is_none_or(|(_, nearest)| at < nearest)
            && mesh.covers(facet, along(from, way, at))
        {
            found = Some((number, at));
        }
    }
    found.filter(|(number, _)| !mesh.facets[*number].curved)
}

/// Whether the hole comes upon anything but the facets that it begins and ends in.
fn meets_another(mesh: &Mesh, bore: &Bore, end: f64, own: [Option<usize>; 2]) -> bool {
    let widest = bore.stations.iter().map(|s| s.1).fold(0.0, f64::max) + CLEAR;
    let tip = along(bore.entry, bore.way, end);
    mesh.facets.iter().enumerate().any(|(number, facet)| {
        if own.contains(&Some(number)) {
            return false;
        }
        let falls = dot(facet.normal, bore.way);
        if falls.abs() > 1e-9 {
            let at = dot(facet.normal, minus(mesh.on(facet), bore.entry)) / falls;
            if at > 0.0 && at < end + CLEAR && mesh.covers(facet, along(bore.entry, bore.way, at)) {
                return true;
            }
        }
        let borders = facet
            .loops
            .iter()
            .flat_map(|border| crate::mesh::pairs(border));
        for (a, b) in borders {
            let (a, b) = (mesh.corners[a as usize], mesh.corners[b as usize]);
            if between(bore.entry, tip, a, b) < widest {
                // What lies beyond the flat ends of the hole is not in its way.
                let share = |p: Triple| dot(minus(p, bore.entry), bore.way);
                let (low, high) = (share(a).min(share(b)), share(a).max(share(b)));
                if high > CLEAR && low < end - CLEAR && !mesh_ends(mesh, own, a, b) {
                    return true;
                }
            }
        }
        // A flat side that the hole breaks through between its borders.
        falls.abs() <= 1e-9 && {
            let off = dot(facet.normal, minus(bore.entry, mesh.on(facet)));
            off.abs() < widest
                && [0.25, 0.5, 0.75].iter().any(|share| {
                    let on = along(along(bore.entry, bore.way, end * share), facet.normal, -off);
                    mesh.covers(facet, on)
                })
        }
    })
}

/// Whether an edge belongs to one of the facets that the hole begins or ends in: those are looked at by themselves.
fn mesh_ends(mesh: &Mesh, own: [Option<usize>; 2], a: Triple, b: Triple) -> bool {
    own.into_iter().flatten().any(|number| {
        let facet = &mesh.facets[number];
        let on = |p: Triple| dot(facet.normal, minus(p, mesh.on(facet))).abs() < 1e-9;
        on(a) && on(b)
    })
}

/// The least distance of two segments.
fn between(a: Triple, b: Triple, c: Triple, d: Triple) -> f64 {
    let (u, v, w) = (minus(b, a), minus(d, c), minus(a, c));
    let (uu, uv, vv) = (dot(u, u), dot(u, v), dot(v, v));
    let (uw, vw) = (dot(u, w), dot(v, w));
    let spread = uu * vv - uv * uv;
    let mut s = if spread > 1e-12 * uu * vv {
        ((uv * vw - vv * uw) / spread).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let t = ((uv * s + vw) / vv).clamp(0.0, 1.0);
    s = ((uv * t - uw) / uu).clamp(0.0, 1.0);
    length(minus(along(a, u, s), along(c, v, t)))
}

impl Mesh {
    /// Whether some border of a facet lies inside a ring on it.
    fn has_border_within(
        &self,
        facet: &Facet,
        centre: Triple,
        way: Triple,
        ring: &[Triple],
    ) -> bool {
        let reach = |p: Triple| {
            let off = minus(p, centre);
            length(along(off, way, -dot(off, way)))
        };
        let widest = ring.iter().map(|p| reach(*p)).fold(0.0, f64::max);
        let borders = facet.loops.iter().flatten();
        borders
            .map(|corner| self.corners[*corner as usize])
            .any(|p| reach(p) < widest)
    }
}
