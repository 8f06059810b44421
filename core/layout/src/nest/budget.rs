//! How long better places are looked for, in work and not in seconds.

use jigless_model::sheets::Effort;

use crate::piece::Piece;

/// How long better places are looked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Budget {
    /// Sides of no-fit polygons that are looked at; a hundred million take about 0.7 s.
    pub(super) work: u64,
    /// How often in a row nothing may come of it. This ends the search where there are few pieces.
    pub(super) tries: u32,
}

/// The whole budget is spent where so much of the boxes around all pieces is empty; with less there is little to gain,
/// and it falls with the third power.
const WHOLE: f64 = 0.08;

impl Budget {
    /// What an effort is worth for some pieces.
    pub(super) fn new(effort: Effort, pieces: &[Piece]) -> Self {
        let (work, tries) = match effort {
            Effort::Quick => (150_000_000.0, 6),
            Effort::Good => (1_000_000_000.0, 24),
            Effort::Best => (6_000_000_000.0, 200),
        };
        let of_box = |piece: &Piece| {
            let bounds = piece.outline.bounds();
            bounds.map_or(0.0, |bounds| bounds.width() * bounds.height())
        };
        let boxes: f64 = pieces.iter().map(of_box).sum();
        let empty = 1.0 - pieces.iter().map(|piece| piece.area).sum::<f64>() / boxes;
        let share = (empty / WHOLE).clamp(0.0, 1.0);
        Self {
            work: (work * share * share * share) as u64,
            tries,
        }
    }
}
