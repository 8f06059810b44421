//! The facets that look toward the reader, laid on paper, and what of a line lies behind them.

use jigless_model::geom::{Bounds, Point};

use super::camera::Camera;
use crate::mesh::{Mesh, MeshEdge};
use crate::vector::dot;

/// Facets whose normal is closer than this to square to the sight are seen edge on.
const EDGE_ON: f64 = 1e-6;
/// What is no nearer than this, in millimetres, hides nothing.
const NEARER: f64 = 1e-4;

/// Where something may be met: a box, and in it a line if there is one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reach {
    bounds: Bounds,
    from: Point,
    way: Point,
}

impl Reach {
    /// All of a box.
    pub(super) fn of_box(bounds: Bounds) -> Self {
        Self {
            bounds,
            from: bounds.min,
            way: Point::default(),
        }
    }

    /// A line.
    pub(super) fn of_line(from: Point, to: Point) -> Self {
        Self {
            bounds: Bounds::new(from, to),
            from,
            way: to - from,
        }
    }

    /// Whether a box may be met: the boxes meet, and the line does not leave it on one side.
    pub(super) fn meets(&self, other: Bounds) -> bool {
        let half = Point::new(other.width() / 2.0, other.height() / 2.0);
        let off = self.way.cross(other.centre() - self.from).abs();
        meets(self.bounds, other)
            && off <= self.way.x.abs() * half.y + self.way.y.abs() * half.x + 1e-9
    }
}

/// A body in a picture.
#[derive(Debug, Clone, Copy)]
pub struct Shown<'a> {
    /// The body in its place.
    pub mesh: &'a Mesh,
    /// Its edges.
    pub edges: &'a [MeshEdge],
}

/// A facet that looks toward the reader.
#[derive(Debug)]
pub(super) struct Patch {
    /// Number of its body.
    pub(super) body: usize,
    /// Number of the facet in its body.
    pub(super) facet: usize,
    /// Its borders on paper, each with its box.
    pub(super) borders: Vec<(Bounds, Vec<Point>)>,
    /// The box around it.
    pub(super) bounds: Bounds,
    /// Nearness at x, y of the paper: `[0] x + [1] y + [2]`.
    plane: [f64; 3],
    /// Whether its outer border is convex, so that it can be asked quickly.
    convex: bool,
}

impl Patch {
    /// How near its plane is at a place of the paper.
    pub(super) fn nearness(&self, at: Point) -> f64 {
        self.plane[0] * at.x + self.plane[1] * at.y + self.plane[2]
    }

    /// Where a line crosses the borders, as shares of its length, in order: it is inside between the first and the
    /// second, the third and the fourth, and so on.
    fn crossings(&self, from: Point, to: Point, reach: Reach, into: &mut Vec<f64>) {
        into.clear();
        let way = to - from;
        for (bounds, border) in &self.borders {
            // A border that keeps off the line crosses its continuation in pairs on one side, or not at all.
            if !reach.meets(*bounds) {
                continue;
            }
            let mut before = border[border.len() - 1];
            let mut side_before = way.cross(before - from);
            for &here in border {
                let side = way.cross(here - from);
                if (side > 0.0) != (side_before > 0.0) {
                    let share = side_before / (side_before - side);
                    let at = before.toward(here, share);
                    into.push((at - from).dot(way) / way.dot(way));
                }
                (before, side_before) = (here, side);
            }
        }
        into.sort_by(f64::total_cmp);
    }

    /// The stretches of a line that lie over it, as shares of its length.
    pub(super) fn over(&self, from: Point, to: Point, reach: Reach, shares: &mut Vec<f64>) {
        self.crossings(from, to, reach, shares);
        shares.retain_mut(|share| {
            *share = share.clamp(0.0, 1.0);
            true
        });
    }

    /// Whether a box lies inside the outer border and keeps off the inner ones. May say no where it does.
    fn holds(&self, inner: Bounds) -> bool {
        if !self.convex || !self.bounds.contains_box(inner, 0.0) {
            return false;
        }
        let outer = &self.borders[0].1;
        let corners = [
            inner.min,
            Point::new(inner.max.x, inner.min.y),
            inner.max,
            Point::new(inner.min.x, inner.max.y),
        ];
        let mut before = outer[outer.len() - 1];
        for &here in outer {
            if corners
                .iter()
                .any(|corner| (here - before).cross(*corner - before) < 0.0)
            {
                return false;
            }
            before = here;
        }
        self.borders[1..]
            .iter()
            .all(|(bounds, _)| !meets(*bounds, inner))
    }

    /// Whether it hides all of a box whose nearest point is no nearer than `nearest`.
    pub(super) fn hides(&self, inner: Bounds, nearest: f64) -> bool {
        self.holds(inner)
            && [
                inner.min,
                inner.max,
                Point::new(inner.min.x, inner.max.y),
                Point::new(inner.max.x, inner.min.y),
            ]
            .iter()
            .all(|corner| self.nearness(*corner) > nearest + NEARER)
    }
}

pub(super) fn meets(one: Bounds, other: Bounds) -> bool {
    one.min.x <= other.max.x
        && other.min.x <= one.max.x
        && one.min.y <= other.max.y
        && other.min.y <= one.max.y
}

/// All patches of a picture, found quickly by place.
#[derive(Debug)]
pub(super) struct Surface {
    /// The patches, the largest first.
    pub(super) patches: Vec<Patch>,
    /// For each body and facet, its patch, if it looks toward the reader.
    pub(super) of_facet: Vec<Vec<Option<u32>>>,
    /// For each body, its corners on paper with their nearness.
    pub(super) corners: Vec<Vec<(Point, f64)>>,
    bounds: Bounds,
    columns: usize,
    rows: usize,
    cells: Vec<Vec<u32>>,
}

/// So many of the largest patches are asked before all others, and are in no cell.
const LARGE: usize = 48;

impl Surface {
    pub(super) fn new(bodies: &[Shown], camera: &Camera) -> Self {
        let mut patches = Vec::new();
        let mut corners = Vec::with_capacity(bodies.len());
        for (body, shown) in bodies.iter().enumerate() {
            let flat: Vec<(Point, f64)> = shown
                .mesh
                .corners
                .iter()
                .map(|corner| (camera.paper(*corner), camera.nearness(*corner)))
                .collect();
            for (facet, own) in shown.mesh.facets.iter().enumerate() {
                let facing = dot(own.normal, camera.toward);
                if facing <= EDGE_ON {
                    continue;
                }
                let slope = [
                    -dot(own.normal, camera.right) / facing,
                    -dot(own.normal, camera.up) / facing,
                ];
                let borders: Vec<(Bounds, Vec<Point>)> = own
                    .loops
                    .iter()
                    .map(|border| {
                        let points: Vec<Point> =
                            border.iter().map(|c| flat[*c as usize].0).collect();
                        (bounds_of(&points), points)
                    })
                    .collect();
                let borders = outer_first(borders);
                let (on, near) = flat[own.loops[0][0] as usize];
                let bounds = borders.iter().map(|b| b.0).reduce(Bounds::union);
                patches.push(Patch {
                    body,
                    facet,
                    convex: is_convex(&borders[0].1),
                    bounds: bounds.unwrap_or(borders[0].0),
                    plane: [slope[0], slope[1], near - slope[0] * on.x - slope[1] * on.y],
                    borders,
                });
            }
            corners.push(flat);
        }
        let size = |patch: &Patch| patch.bounds.width() * patch.bounds.height();
        patches.sort_by(|a, b| size(b).total_cmp(&size(a)));
        let mut of_facet: Vec<Vec<Option<u32>>> = bodies
            .iter()
            .map(|shown| vec![None; shown.mesh.facets.len()])
            .collect();
        for (number, patch) in patches.iter().enumerate() {
            of_facet[patch.body][patch.facet] = Some(number as u32);
        }
        let all = patches.iter().map(|patch| patch.bounds);
        let bounds = all
            .reduce(Bounds::union)
            .unwrap_or(Bounds::of_size(1.0, 1.0))
            .grown(1.0);
        let across = ((patches.len() as f64).sqrt().ceil() as usize).clamp(1, 128);
        let mut surface = Self {
            bounds,
            columns: across,
            rows: across,
            cells: vec![Vec::new(); across * across],
            patches,
            of_facet,
            corners,
        };
        for number in LARGE.min(surface.patches.len())..surface.patches.len() {
            let (columns, rows) = surface.reached(surface.patches[number].bounds);
            for row in rows {
                for column in columns.clone() {
                    surface.cells[row * surface.columns + column].push(number as u32);
                }
            }
        }
        surface
    }

    fn reached(
        &self,
        of: Bounds,
    ) -> (
        std::ops::RangeInclusive<usize>,
        std::ops::RangeInclusive<usize>,
    ) {
        let cell = |at: f64, low: f64, extent: f64, count: usize| {
            (((at - low) / extent * count as f64).max(0.0) as usize).min(count - 1)
        };
        let (low, width, height) = (self.bounds.min, self.bounds.width(), self.bounds.height());
        (
            cell(of.min.x, low.x, width, self.columns)..=cell(of.max.x, low.x, width, self.columns),
            cell(of.min.y, low.y, height, self.rows)..=cell(of.max.y, low.y, height, self.rows),
        )
    }

    /// The box around everything.
    pub(super) fn bounds(&self) -> Bounds {
        self.bounds.grown(-1.0)
    }

    /// Whether one of the large patches hides all of a box.
    pub(super) fn is_hidden(&self, inner: Bounds, nearest: f64) -> bool {
        self.patches
            .iter()
            .take(LARGE)
            .any(|patch| patch.hides(inner, nearest))
    }

    /// The patches that may meet a box, the large ones first, each once.
    pub(super) fn near(&self, reach: Reach, found: &mut Vec<u32>) {
        found.clear();
        let large = LARGE.min(self.patches.len());
        found.extend((0..large as u32).filter(|n| reach.meets(self.patches[*n as usize].bounds)));
        let begin = found.len();
        let (columns, rows) = self.reached(reach.bounds);
        let size = Point::new(
            self.bounds.width() / self.columns as f64,
            self.bounds.height() / self.rows as f64,
        );
        for row in rows {
            for column in columns.clone() {
                let cell = &self.cells[row * self.columns + column];
                let low = self.bounds.min + Point::new(size.x * column as f64, size.y * row as f64);
                if cell.is_empty() || !reach.meets(Bounds::new(low, low + size)) {
                    continue;
                }
                found.extend(
                    cell.iter()
                        .filter(|n| reach.meets(self.patches[**n as usize].bounds)),
                );
            }
        }
        found[begin..].sort_unstable();
        found.dedup();
    }

    /// The nearest patch at a place of the paper, and how near it is.
    pub(super) fn nearest(&self, at: Point) -> Option<(usize, f64)> {
        let mut found = Vec::new();
        self.near(Reach::of_box(Bounds::new(at, at)), &mut found);
        let mut best: Option<(usize, f64)> = None;
        for number in found {
            let patch = &self.patches[number as usize];
            let nearness = patch.nearness(at);
            if best.is_none_or(|(_, nearest)| nearness > nearest) && covers(patch, at) {
                best = Some((number as usize, nearness));
            }
        }
        best
    }
}

/// Whether a place of the paper lies on a patch.
pub(super) fn covers(patch: &Patch, at: Point) -> bool {
    let mut inside = false;
    for (_, border) in &patch.borders {
        let mut before = border[border.len() - 1];
        for &here in border {
            if (before.y > at.y) != (here.y > at.y) {
                let x = before.x + (at.y - before.y) / (here.y - before.y) * (here.x - before.x);
                inside ^= x > at.x;
            }
            before = here;
        }
    }
    inside
}

fn bounds_of(points: &[Point]) -> Bounds {
    let of = Bounds::of_points(points.iter().copied());
    of.unwrap_or(Bounds::of_size(0.0, 0.0))
}

/// The border with the largest box first: the outer one.
fn outer_first(mut borders: Vec<(Bounds, Vec<Point>)>) -> Vec<(Bounds, Vec<Point>)> {
    let size = |b: &Bounds| b.width() + b.height();
    let largest = (0..borders.len())
        .max_by(|&i, &j| size(&borders[i].0).total_cmp(&size(&borders[j].0)))
        .unwrap_or(0);
    borders.swap(0, largest);
    borders
}

fn is_convex(border: &[Point]) -> bool {
    let count = border.len();
    (0..count).all(|i| {
        let (a, b, c) = (border[i], border[(i + 1) % count], border[(i + 2) % count]);
        (b - a).cross(c - b) >= -1e-9
    })
}
