//! What one person can handle: which cuts a rectangle that is too large may begin with.

use jigless_model::sheets::{CutDirection, Handling, Micrometres, Saw};

/// What a piece may measure after the first cuts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limit {
    /// `None` where anything can be.
    handling: Option<Handling>,
    kerf: Micrometres,
}

impl Limit {
    pub(super) fn new(saw: &Saw) -> Self {
        Self {
            handling: (saw.handling != Handling::default()).then_some(saw.handling),
            kerf: saw.kerf,
        }
    }

    /// Whether a rectangle, grown by the kerf, can be handled.
    fn holds(&self, (width, height): (i32, i32)) -> bool {
        let own = |size: i32| Micrometres::from(size) - self.kerf;
        let allows = |handling: Handling| handling.allows(own(width), own(height));
        self.handling.is_none_or(allows)
    }

    /// Whether a room may be cut in a direction first, to put a piece into it. What cannot be handled is cut into bands
    /// that can be, unless the piece itself is too large; where no band of either direction can be handled, into the
    /// shorter ones.
    pub(super) fn allows(&self, room: (i32, i32), piece: (i32, i32), first: CutDirection) -> bool {
        if self.handling.is_none() || self.holds(room) || !self.holds(piece) {
            return true;
        }
        let own = band(room, piece, first);
        let other = band(room, piece, first.other());
        let longest = |(width, height): (i32, i32)| width.max(height);
        self.holds(own) || (!self.holds(other) && longest(own) <= longest(other))
    }
}

/// What the first cut that is needed frees, the piece in it.
fn band(room: (i32, i32), piece: (i32, i32), first: CutDirection) -> (i32, i32) {
    let along = (piece.0, room.1);
    let across = (room.0, piece.1);
    match first {
        CutDirection::Along if piece.0 < room.0 => along,
        CutDirection::Across if piece.1 >= room.1 => along,
        _ => across,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use CutDirection::{Across, Along};

    const SHEET: (i32, i32) = (1_220_000, 2_440_000);

    fn limit(longest: Option<i64>, largest: Option<i64>) -> Limit {
        let handling = Handling { longest, largest };
        Limit::new(&Saw {
            handling,
            ..Saw::default()
        })
    }

    #[test]
    fn a_long_sheet_is_first_cut_across() {
        let limit = limit(Some(1_300_000), None);
        assert!(!limit.allows(SHEET, (400_000, 1_150_000), Along));
        assert!(limit.allows(SHEET, (400_000, 1_150_000), Across));
        // What is short enough is cut either way, and so is what a long piece comes from.
        assert!(limit.allows((1_220_000, 1_200_000), (400_000, 1_150_000), Along));
        assert!(limit.allows(SHEET, (400_000, 2_000_000), Along));
    }

    /// 0.8 square metres: a strip of 300 by 2440 holds 0.73, one of 400 by 2440 holds 0.98.
    #[test]
    fn a_band_is_not_too_heavy() {
        let limit = limit(None, Some(800_000_000_000));
        assert!(limit.allows(SHEET, (300_000, 1_150_000), Along));
        assert!(!limit.allows(SHEET, (400_000, 600_000), Along));
        assert!(limit.allows(SHEET, (400_000, 600_000), Across));
    }

    /// No band of a sheet of 1500 by 3000 can be handled: the shorter ones are cut further.
    #[test]
    fn where_no_band_can_be_handled_the_shorter_one_is_cut() {
        let limit = limit(Some(1_300_000), None);
        let sheet = (1_500_000, 3_000_000);
        assert!(limit.allows(sheet, (400_000, 600_000), Across));
        assert!(!limit.allows(sheet, (400_000, 600_000), Along));
    }
}
