//! Arranging by the boxes around pieces, exactly.
//!
//! The free room is kept as the list of all largest empty rectangles. Each piece goes where its upper edge comes to lie
//! lowest, then furthest to the left; what it takes is cut off all rectangles.

use jigless_model::geom::{Bounds, Point};

use super::{Arranger, FreeArea, Piece, Position};

/// Rounding of sums, in millimetres; far below what any machine knows.
const NOISE: f64 = 1e-9;

/// Arranges boxes.
#[derive(Debug, Clone, Copy)]
pub struct Boxes;

impl Arranger for Boxes {
    fn suits(&self, _: &[Piece]) -> bool {
        true
    }

    fn fill(&self, room: FreeArea, pieces: &[&Piece]) -> Vec<Position> {
        // Half of the spacing around every piece, and around the room, makes boxes that may touch.
        let half = room.spacing / 2.0;
        let mut free = vec![room.bounds.grown(half)];
        let mut places = Vec::new();
        let mut too_large: Option<usize> = None;
        for (index, piece) in pieces.iter().enumerate() {
            if too_large == Some(piece.kind) {
                continue;
            }
            match lowest(&free, piece, half) {
                Some((place, taken)) => {
                    places.push(Position {
                        piece: index,
                        ..place
                    });
                    cut_off(&mut free, taken);
                }
                None => too_large = Some(piece.kind),
            }
        }
        places
    }
}

/// The best place of a piece, and what it takes.
fn lowest(free: &[Bounds], piece: &Piece, half: f64) -> Option<(Position, Bounds)> {
    let mut best: Option<(Position, Bounds)> = None;
    for (turn, &quarters) in piece.turns.iter().enumerate() {
        let Some(own) = piece.outline.turned(quarters).bounds() else {
            continue;
        };
        // A half turn needs the same room.
        let own = own.grown(half);
        let seen = piece.turns[..turn].iter().any(|q| q % 2 == quarters % 2);
        if seen {
            continue;
        }
        for room in free {
            if own.width() > room.width() + NOISE || own.height() > room.height() + NOISE {
                continue;
            }
            let at = Point::new(room.min.x - own.min.x, room.min.y - own.min.y);
            let taken = own.moved(at);
            let key = |b: &Bounds| (b.max.y, b.min.x, b.max.x);
            if best
                .as_ref()
                .is_none_or(|(_, other)| key(&taken) < key(other))
            {
                let place = Position {
                    piece: 0,
                    quarters,
                    at,
                };
                best = Some((place, taken));
            }
        }
    }
    best
}

/// Takes a box out of every free rectangle and keeps the largest rests.
fn cut_off(free: &mut Vec<Bounds>, taken: Bounds) {
    let mut rests: Vec<Bounds> = Vec::with_capacity(free.len() + 4);
    let mut new: Vec<Bounds> = Vec::new();
    for room in free.drain(..) {
        if !room.overlaps(taken, NOISE) {
            rests.push(room);
            continue;
        }
        let (min, max) = (room.min, room.max);
        let sides = [
            (min, Point::new(taken.min.x, max.y)),
            (Point::new(taken.max.x, min.y), max),
            (min, Point::new(max.x, taken.min.y)),
            (Point::new(min.x, taken.max.y), max),
        ];
        new.extend(
            sides
                .into_iter()
                .filter(|(low, high)| high.x - low.x > NOISE && high.y - low.y > NOISE)
                .map(|(low, high)| Bounds::new(low, high)),
        );
    }
    // Rests of different rectangles may hold one another; what was free and untouched is never inside a rest.
    for (index, room) in new.iter().enumerate() {
        let within = |other: &Bounds| other.contains_box(*room, NOISE);
        let twin_before = new[..index].iter().any(within);
        let larger_after = new[index + 1..]
            .iter()
            .any(|other| within(other) && !room.contains_box(*other, NOISE));
        if !twin_before && !larger_after && !rests.iter().any(within) {
            rests.push(*room);
        }
    }
    *free = rests;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::piece::pieces_of;
    use jigless_model::geom::{Path, rectangle};
    use proptest::prelude::*;

    fn fill(
        sheet: (f64, f64),
        spacing: f64,
        sizes: &[(f64, f64)],
        turns: &'static [u8],
    ) -> Vec<Bounds> {
        let outlines: Vec<Path> = sizes
            .iter()
            .map(|&(w, h)| rectangle(Bounds::of_size(w, h)))
            .collect();
        let pieces = pieces_of(&outlines, turns);
        let room = FreeArea {
            bounds: Bounds::of_size(sheet.0, sheet.1),
            spacing,
        };
        let places = Boxes.fill(room, &pieces.iter().collect::<Vec<_>>());
        let at = |p: &Position| {
            outlines[p.piece]
                .turned(p.quarters)
                .moved(p.at)
                .bounds()
                .unwrap()
        };
        places.iter().map(at).collect()
    }

    /// 604 x 404 with a saw kerf of 4 on 2800 x 2070: four columns of five, 4 x 608 and 5 x 408, by arithmetic.
    #[test]
    fn a_full_grid_is_found() {
        let placed = fill((2800.0, 2070.0), 4.0, &[(604.0, 404.0); 20], &[0, 2]);
        assert_eq!(placed.len(), 20);
    }

    #[test]
    fn a_sheet_may_be_filled_to_the_last_corner() {
        let placed = fill((300.0, 200.0), 0.15, &[(149.925, 200.0); 2], &[0]);
        assert_eq!(placed.len(), 2);
        assert!((placed[1].min.x - placed[0].max.x - 0.15).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn boxes_keep_their_distance(
            sizes in prop::collection::vec((5.0..300.0f64, 5.0..300.0f64), 1..60), spacing in 0.0..20.0f64,
        ) {
            let placed = fill((600.0, 900.0), spacing, &sizes, &[0, 1, 2, 3]);
            for (i, a) in placed.iter().enumerate() {
                prop_assert!(Bounds::of_size(600.0, 900.0).contains_box(*a, 1e-6));
                for b in &placed[i + 1..] {
                    prop_assert!(!a.grown(spacing - 1e-6).overlaps(*b, 0.0));
                }
            }
        }
    }
}
