//! The pieces as the search sees them: kinds with their contours, and the no-fit polygons of every two.

use jigless_model::geom::{Bounds, Path, Point};

use super::no_fit::{NoFit, Ring, on_grid};
use crate::piece::Piece;

/// How far the straight sides that stand for an arc may lie from it, in millimetres; more where there would be too many.
const CHORD_ERROR: f64 = 0.05;

/// How many sides a kind may have.
const MOST_SIDES: usize = 48;

/// Pieces may lie nearer to each other than asked by this, in millimetres: rounding, which no machine sees.
pub(super) const TOLERANCE: f64 = 0.001;

/// Pieces that are alike.
#[derive(Debug)]
pub(super) struct Kind {
    /// Outline and openings.
    rings: Vec<Ring>,
    /// The outline for each number of quarters.
    pub(super) outlines: [Ring; 4],
    /// How far its arcs may reach beyond its sides.
    error: f64,
    /// The turns that may be taken, in quarters.
    pub(super) turns: Vec<u8>,
    /// The box around it for each number of quarters.
    pub(super) bounds: [Bounds; 4],
    /// Of the material, in square millimetres.
    pub(super) area: f64,
}

impl Kind {
    /// Openings that hold no piece of these sizes are taken for material: most are holes for screws, and every side makes
    /// work with every other one.
    pub(super) fn new(piece: &Piece, sizes: &[(f64, f64)]) -> Self {
        let holds_one = |opening: &&Path| {
            opening.bounds().is_some_and(|room| {
                let (width, height) = (room.width(), room.height());
                let fits = |(w, h): &(f64, f64)| {
                    (*w <= width && *h <= height) || (*w <= height && *h <= width)
                };
                sizes.iter().any(fits)
            })
        };
        let openings: Vec<&Path> = piece.openings.iter().filter(holds_one).collect();
        let paths = || std::iter::once(piece.outline).chain(openings.iter().copied());
        let has_arcs = paths().any(|path| path.vertices.iter().any(|vertex| vertex.bulge != 0.0));
        let mut error = CHORD_ERROR;
        let mut rings = flattened(paths(), error);
        while has_arcs && rings.iter().map(Vec::len).sum::<usize>() > MOST_SIDES && error < 2.0 {
            error *= 2.0;
            rings = flattened(paths(), error);
        }
        let exact = piece.outline.bounds().unwrap_or(Bounds::of_size(0.0, 0.0));
        let corners = [exact.min, exact.max];
        let turned = |quarters: u8| {
            let corners = corners.map(|corner| corner.turned(quarters));
            Bounds::new(corners[0], corners[1])
        };
        let mut turns: Vec<u8> = Vec::new();
        for &quarters in piece.turns {
            // A rectangle looks the same after half a turn.
            let half =
                turns.contains(&((quarters + 2) % 4)) && looks_the_same(&rings, exact.centre());
            if !half {
                turns.push(quarters);
            }
        }
        let openings: f64 = piece.openings.iter().map(|path| path.area().abs()).sum();
        let outline = |quarters: u8| {
            let points = rings.first().into_iter().flatten();
            points.map(|point| point.turned(quarters)).collect()
        };
        Self {
            outlines: [0, 1, 2, 3].map(outline),
            rings,
            error: if has_arcs { error } else { 0.0 },
            turns,
            bounds: [0, 1, 2, 3].map(turned),
            area: piece.area - openings,
        }
    }

    /// A turn and where 0,0 lies, by a turn that the search takes: it leaves out those that look the same.
    pub(super) fn as_searched(&self, quarters: u8, at: Point) -> (u8, Point) {
        if self.turns.contains(&quarters) {
            return (quarters, at);
        }
        let opposite = (quarters + 2) % 4;
        let corner = |quarters: u8| self.bounds[usize::from(quarters)].min;
        (opposite, at + corner(quarters) - corner(opposite))
    }

    fn sides(&self) -> usize {
        self.rings.iter().map(Vec::len).sum()
    }
}

fn flattened<'a>(paths: impl Iterator<Item = &'a Path>, error: f64) -> Vec<Ring> {
    let directed = paths
        .enumerate()
        .map(|(number, path)| path.normalised(number == 0));
    let rings = directed.map(|path| {
        let points = path.flattened(error);
        let mut ring: Ring = points.into_iter().map(on_grid).collect();
        ring.dedup_by(|a, b| a.distance(*b) < 1e-4);
        ring
    });
    rings.filter(|ring| ring.len() > 2).collect()
}

/// Whether contours look the same after half a turn about a point.
fn looks_the_same(rings: &[Ring], centre: Point) -> bool {
    let all = || rings.iter().flatten();
    all().all(|point| {
        let opposite = centre * 2.0 - *point;
        all().any(|other| other.distance(opposite) < 1e-6)
    })
}

/// No-fit polygons of every two kinds.
#[derive(Debug)]
pub(super) struct Pairs {
    pub(super) kinds: Vec<Kind>,
    no_fits: Vec<Option<NoFit>>,
    spacing: f64,
}

impl Pairs {
    /// How much work it is to make them, in sides that are put together.
    pub(super) fn work(kinds: &[Kind]) -> usize {
        let sides: usize = kinds.iter().map(Kind::sides).sum();
        2 * sides * sides
    }

    pub(super) fn new(kinds: Vec<Kind>, spacing: f64) -> Self {
        let count = kinds.len();
        let mut no_fits = Vec::new();
        no_fits.resize_with(count * count * 4, || None);
        for (a, first) in kinds.iter().enumerate() {
            for (b, second) in kinds.iter().enumerate().skip(a) {
                for quarters in 0..4 {
                    let differ = |s: &u8| first.turns.contains(&((s + 4 - quarters) % 4));
                    if !second.turns.iter().any(differ) {
                        continue;
                    }
                    let turned: Vec<Ring> = second
                        .rings
                        .iter()
                        .map(|ring| ring.iter().map(|point| point.turned(quarters)).collect())
                        .collect();
                    no_fits[(a * count + b) * 4 + usize::from(quarters)] =
                        Some(NoFit::new(&first.rings, &turned));
                }
            }
        }
        Self {
            kinds,
            no_fits,
            spacing,
        }
    }

    /// The no-fit polygon of two kinds as they are turned, how a vector from the first to the second one is seen by it:
    /// turned by so many quarters, reversed or not; and the distance that the two keep.
    #[inline]
    pub(super) fn of(&self, a: (usize, u8), b: (usize, u8)) -> (Option<&NoFit>, View, f64) {
        let swapped = a.0 > b.0;
        let (first, second) = if swapped { (b, a) } else { (a, b) };
        let quarters = (second.1 + 4 - first.1) % 4;
        let number = (first.0 * self.kinds.len() + second.0) * 4 + usize::from(quarters);
        let view = View {
            quarters: (4 - first.1) % 4,
            swapped,
        };
        let distance = self.spacing + self.kinds[a.0].error + self.kinds[b.0].error - TOLERANCE;
        (self.no_fits[number].as_ref(), view, distance)
    }
}

/// How a vector on the sheet is seen by a no-fit polygon.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    quarters: u8,
    swapped: bool,
}

impl View {
    /// A vector on the sheet, as the polygon sees it.
    #[inline]
    pub(super) fn seen(self, vector: Point) -> Point {
        let vector = if self.swapped { -vector } else { vector };
        vector.turned(self.quarters)
    }

    /// A vector of the polygon, on the sheet.
    pub(super) fn on_sheet(self, vector: Point) -> Point {
        let vector = vector.turned((4 - self.quarters) % 4);
        if self.swapped { -vector } else { vector }
    }
}
