//! A body as flat facets with shared corners.

use std::collections::BTreeMap;

use jigless_model::whole::{Box3, Triple};

use crate::vector::{along, cross, dot, length, minus, unit};

/// A flat piece of a body's surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Facet {
    /// Its borders as numbers of corners: outer ones counter-clockwise as seen from outside, inner ones clockwise.
    pub loops: Vec<Vec<u32>>,
    /// Unit vector that points out of the body.
    pub normal: Triple,
    /// Whether it is one of the strips that stand for a curved surface.
    pub curved: bool,
}

/// An edge of a body, where two facets meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MeshEdge {
    /// Its two corners; the first facet runs from the first to the second.
    pub ends: [u32; 2],
    /// The two facets.
    pub facets: [u32; 2],
    /// Whether it is only a seam between strips of a curved surface, or where a curve runs on into a flat side.
    pub smooth: bool,
}

/// A closed body.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Mesh {
    /// The corners, in millimetres.
    pub corners: Vec<Triple>,
    /// The facets. Each edge belongs to two of them, once in each direction.
    pub facets: Vec<Facet>,
}

/// Normals whose angle has a cosine above this belong to one curve: 22.5 degrees, the strips of a circle of 16 sides,
/// and a little.
const ONE_CURVE: f64 = 0.92;

/// Normals that differ by less than this, and planes that are apart by less, in millimetres, are the same.
const SAME: f64 = 1e-6;

/// What a body measures, with the density 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measures {
    /// In cubic millimetres.
    pub volume: f64,
    /// In square millimetres.
    pub area: f64,
    /// Centre of mass, in millimetres.
    pub centre: Triple,
}

impl Mesh {
    /// The corners of a border.
    pub fn border<'a>(&'a self, border: &'a [u32]) -> impl Iterator<Item = Triple> + 'a {
        border.iter().map(|&corner| self.corners[corner as usize])
    }

    /// Some corner of a facet.
    pub fn on(&self, facet: &Facet) -> Triple {
        self.corners[facet.loops[0][0] as usize]
    }

    /// The box around it. `None` for a body without corners.
    pub fn bounds(&self) -> Option<Box3> {
        self.corners
            .iter()
            .map(|&corner| Box3::new(corner, corner))
            .reduce(Box3::union)
    }

    /// Area of a facet, in square millimetres.
    pub fn area(&self, facet: &Facet) -> f64 {
        length(self.doubled_area(facet)) / 2.0
    }

    /// Twice the area of a facet as a vector along its normal.
    fn doubled_area(&self, facet: &Facet) -> Triple {
        let mut sum = [0.0; 3];
        let origin = self.on(facet);
        for border in &facet.loops {
            for (a, b) in pairs(border) {
                let (a, b) = (self.corners[a as usize], self.corners[b as usize]);
                let part = cross(minus(a, origin), minus(b, origin));
                sum = [0, 1, 2].map(|i| sum[i] + part[i]);
            }
        }
        sum
    }

    /// Volume, area and centre of mass, by the divergence theorem over fans of triangles: exact for flat facets.
    pub fn measures(&self) -> Measures {
        let middle = self.bounds().map_or([0.0; 3], Box3::centre);
        let (mut volume, mut area, mut moment) = (0.0, 0.0, [0.0; 3]);
        for facet in &self.facets {
            area += length(self.doubled_area(facet)) / 2.0;
            let apex = minus(self.on(facet), middle);
            for border in &facet.loops {
                for (a, b) in pairs(border) {
                    let a = minus(self.corners[a as usize], middle);
                    let b = minus(self.corners[b as usize], middle);
                    let six = dot(apex, cross(a, b));
                    volume += six / 6.0;
                    // The centre of a tetrahedron is the mean of its corners, one of which is the middle.
                    moment = [0, 1, 2].map(|i| moment[i] + six / 24.0 * (apex[i] + a[i] + b[i]));
                }
            }
        }
        Measures {
            volume,
            area,
            centre: [0, 1, 2].map(|i| middle[i] + moment[i] / volume),
        }
    }

    /// The edges, by their corners. `None` where some edge has not one facet on either side: the body is not closed.
    pub fn edges(&self) -> Option<Vec<MeshEdge>> {
        let mut open: BTreeMap<(u32, u32), Vec<u32>> = BTreeMap::new();
        let mut edges = Vec::new();
        for (number, facet) in self.facets.iter().enumerate() {
            let number = number as u32;
            for (a, b) in facet.loops.iter().flat_map(|border| pairs(border)) {
                let waiting = open.get_mut(&(b, a)).and_then(Vec::pop);
                match waiting {
                    Some(other) => edges.push(MeshEdge {
                        ends: [b, a],
                        facets: [other, number],
                        smooth: self.is_smooth(other, number),
                    }),
                    None => open.entry((a, b)).or_default().push(number),
                }
            }
        }
        edges.sort_by_key(|edge| (edge.ends, edge.facets));
        open.values().all(Vec::is_empty).then_some(edges)
    }

    fn is_smooth(&self, one: u32, other: u32) -> bool {
        let (one, other) = (&self.facets[one as usize], &self.facets[other as usize]);
        (one.curved || other.curved) && dot(one.normal, other.normal) > ONE_CURVE
    }

    /// Joins facets that lie in one plane and meet in an edge, and leaves out corners in the middle of a straight edge.
    #[must_use]
    pub fn merged(self) -> Mesh {
        let Some(edges) = self.edges() else {
            return self;
        };
        let mut groups: Vec<u32> = (0..self.facets.len() as u32).collect();
        for edge in &edges {
            let [a, b] = edge.facets.map(|facet| &self.facets[facet as usize]);
            let apart = dot(a.normal, minus(self.on(b), self.on(a))).abs();
            if a.curved == b.curved && dot(a.normal, b.normal) > 1.0 - SAME * SAME && apart < SAME {
                let [a, b] = edge.facets.map(|facet| root(&mut groups, facet));
                groups[a.max(b) as usize] = a.min(b);
            }
        }
        let mut joined: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
        for facet in 0..self.facets.len() as u32 {
            joined
                .entry(root(&mut groups, facet))
                .or_default()
                .push(facet);
        }
        let mut facets = Vec::with_capacity(joined.len());
        for members in joined.into_values() {
            let first = &self.facets[members[0] as usize];
            let loops = if members.len() == 1 {
                first.loops.clone()
            } else {
                let borders = members
                    .iter()
                    .flat_map(|facet| &self.facets[*facet as usize].loops);
                let directed = borders.flat_map(|border| pairs(border));
                self.chained(outer_edges(directed), first.normal)
            };
            facets.push(Facet {
                loops,
                ..first.clone()
            });
        }
        Mesh {
            corners: self.corners,
            facets,
        }
        .without_needless_corners()
    }

    /// Directed edges as closed borders. Where several leave a corner, the border turns as far to the left as it can, so
    /// that borders touch and do not cross.
    pub(crate) fn chained(&self, edges: Vec<(u32, u32)>, normal: Triple) -> Vec<Vec<u32>> {
        let mut leaving: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
        for (a, b) in edges {
            leaving.entry(a).or_default().push(b);
        }
        let mut borders = Vec::new();
        while let Some((&start, _)) = leaving.first_key_value() {
            let mut border = vec![start];
            let (mut before, mut here) = (None, start);
            while let Some(ways) = leaving.get_mut(&here) {
                let chosen = match before {
                    Some(before) if ways.len() > 1 => self.leftmost(before, here, ways, normal),
                    _ => ways.len() - 1,
                };
                let next = ways.swap_remove(chosen);
                if ways.is_empty() {
                    leaving.remove(&here);
                }
                if next == start {
                    break;
                }
                (before, here) = (Some(here), next);
                border.push(next);
            }
            borders.push(border);
        }
        borders
    }

    fn leftmost(&self, before: u32, here: u32, ways: &[u32], normal: Triple) -> usize {
        let at = |corner: u32| self.corners[corner as usize];
        let arriving = minus(at(here), at(before));
        let turn = |to: u32| {
            let leaving = minus(at(to), at(here));
            dot(normal, cross(arriving, leaving)).atan2(dot(arriving, leaving))
        };
        (0..ways.len())
            .max_by(|&i, &j| turn(ways[i]).total_cmp(&turn(ways[j])))
            .unwrap_or(0)
    }

    /// Leaves out corners where only two facets meet and the edge runs on straight, and corners that no facet has.
    fn without_needless_corners(self) -> Mesh {
        let mut neighbours: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
        for border in self.facets.iter().flat_map(|facet| &facet.loops) {
            for (a, b) in pairs(border) {
                neighbours.entry(a).or_default().push(b);
            }
        }
        let needless = |corner: u32| {
            let [a, b] = neighbours[&corner][..] else {
                return false;
            };
            let at = |corner: u32| self.corners[corner as usize];
            let way = unit(minus(at(b), at(a)));
            let across = cross(way, minus(at(corner), at(a)));
            a != b && length(across) < SAME && dot(way, minus(at(corner), at(a))) > 0.0
        };
        let mut renumbered: BTreeMap<u32, u32> = BTreeMap::new();
        let mut corners = Vec::new();
        let mut facets = Vec::with_capacity(self.facets.len());
        for facet in &self.facets {
            let loops = facet.loops.iter().map(|border| {
                let kept = border.iter().filter(|corner| !needless(**corner));
                kept.map(|&corner| {
                    *renumbered.entry(corner).or_insert_with(|| {
                        corners.push(self.corners[corner as usize]);
                        corners.len() as u32 - 1
                    })
                })
                .collect()
            });
            facets.push(Facet {
                loops: loops.collect(),
                ..facet.clone()
            });
        }
        Mesh { corners, facets }
    }

    /// Whether a point of a facet's plane lies inside its borders.
    pub fn covers(&self, facet: &Facet, point: Triple) -> bool {
        // The plane is seen along the axis that its normal is nearest to.
        let (i, j) = flat_axes(facet.normal);
        let mut inside = false;
        for border in &facet.loops {
            for (a, b) in pairs(border) {
                let (a, b) = (self.corners[a as usize], self.corners[b as usize]);
                if (a[j] > point[j]) != (b[j] > point[j]) {
                    let at = a[i] + (point[j] - a[j]) / (b[j] - a[j]) * (b[i] - a[i]);
                    inside ^= at > point[i];
                }
            }
        }
        inside
    }

    /// The distance of a point from the nearest border of a facet.
    pub fn from_border(&self, facet: &Facet, point: Triple) -> f64 {
        let borders = facet.loops.iter().flat_map(|border| pairs(border));
        borders
            .map(|(a, b)| {
                let (a, b) = (self.corners[a as usize], self.corners[b as usize]);
                let way = minus(b, a);
                let share = (dot(minus(point, a), way) / dot(way, way)).clamp(0.0, 1.0);
                length(minus(point, along(a, way, share)))
            })
            .fold(f64::INFINITY, f64::min)
    }
}

/// The two axes onto which a plane is laid flat with the least loss.
pub(crate) fn flat_axes(normal: Triple) -> (usize, usize) {
    let most = (0..3)
        .max_by(|&i, &j| normal[i].abs().total_cmp(&normal[j].abs()))
        .unwrap_or(2);
    match most {
        0 => (1, 2),
        1 => (2, 0),
        _ => (0, 1),
    }
}

/// The sides of a closed border.
pub(crate) fn pairs(border: &[u32]) -> impl Iterator<Item = (u32, u32)> + '_ {
    let next = border.iter().cycle().skip(1);
    border.iter().copied().zip(next.copied())
}

/// Directed edges without those that are there in both directions.
pub(crate) fn outer_edges(edges: impl Iterator<Item = (u32, u32)>) -> Vec<(u32, u32)> {
    let mut left: BTreeMap<(u32, u32), usize> = BTreeMap::new();
    for (a, b) in edges {
        match left.get_mut(&(b, a)) {
            Some(count) if *count > 1 => *count -= 1,
            Some(_) => {
                left.remove(&(b, a));
            }
            None => *left.entry((a, b)).or_default() += 1,
        }
    }
    left.into_iter()
        .flat_map(|(edge, count)| std::iter::repeat_n(edge, count))
        .collect()
}

fn root(groups: &mut [u32], mut of: u32) -> u32 {
    while groups[of as usize] != of {
        groups[of as usize] = groups[groups[of as usize] as usize];
        of = groups[of as usize];
    }
    of
}
