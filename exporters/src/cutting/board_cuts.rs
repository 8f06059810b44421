//! A board that is cut to length, as a numbered list of cuts: one end is trimmed, then piece after piece comes off it.

use jigless_model::sheets::{BoardProblem, CutBoard, GoodSide, Micrometres};

/// One cut across a board, measured from the end that was cut last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct BoardStep {
    /// Its number on the board, from 1.
    pub(super) number: u32,
    /// From the end to the good side of the blade.
    pub(super) distance: Micrometres,
    /// Which side is kept to size: the far one where the end is trimmed.
    pub(super) good_side: GoodSide,
    /// The piece that comes off: number of its kind, and which copy. None where the end is trimmed.
    pub(super) piece: Option<(usize, u32)>,
    /// How long the board is before the cut.
    pub(super) before: Micrometres,
    /// How long it is after it; none where the blade runs over the other end.
    pub(super) after: Option<Micrometres>,
    /// Cuts with the same number are made with one setting of the stop, one after another.
    pub(super) setting: u32,
}

/// A board's cuts and what remains.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct BoardCuts {
    pub(super) steps: Vec<BoardStep>,
    /// The piece that is left once everything else is off, if one is.
    pub(super) last: Option<(usize, u32)>,
    /// How long the rest is; 0 where a piece or nothing is left.
    pub(super) rest: Micrometres,
}

/// The cuts of a board in the order of work.
pub(super) fn board_cuts(problem: &BoardProblem, board: &CutBoard) -> BoardCuts {
    let mut cuts = BoardCuts {
        steps: Vec::new(),
        last: None,
        rest: problem.lengths[board.length].length,
    };
    if problem.end_trim > 0 {
        let after = cuts.rest - problem.end_trim;
        cuts.push(problem.end_trim, GoodSide::Far, None, Some(after));
    }
    for &piece in &board.pieces {
        let length = problem.pieces[piece.0].length;
        if cuts.rest <= length {
            cuts.last = Some(piece);
            cuts.rest = 0;
            break;
        }
        let after = cuts.rest - length - problem.kerf;
        cuts.push(
            length,
            GoodSide::Near,
            Some(piece),
            (after > 0).then_some(after),
        );
    }
    cuts
}

impl BoardCuts {
    fn push(
        &mut self,
        distance: Micrometres,
        good_side: GoodSide,
        piece: Option<(usize, u32)>,
        after: Option<Micrometres>,
    ) {
        let setting = match self.steps.last() {
            Some(last) if (last.distance, last.good_side) == (distance, good_side) => last.setting,
            Some(last) => last.setting + 1,
            None => 1,
        };
        self.steps.push(BoardStep {
            number: self.steps.len() as u32 + 1,
            distance,
            good_side,
            piece,
            before: self.rest,
            after,
            setting,
        });
        self.rest = after.unwrap_or(0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::sheets::{BoardLength, BoardPiece, SheetOrigin};

    /// 1000 long, 10 off the end, two pieces of 300 and one of 250 with kerfs of 4: 1000 - 10 - 2 x 304 - 254 = 128.
    #[test]
    fn pieces_come_off_one_end() {
        let problem = BoardProblem {
            lengths: vec![BoardLength {
                length: 1000,
                count: None,
                price: None,
                origin: SheetOrigin::ToBuy,
            }],
            pieces: [300, 250]
                .map(|length| BoardPiece { length, count: 2 })
                .into(),
            kerf: 4,
            end_trim: 10,
            ..BoardProblem::default()
        };
        let board = CutBoard {
            length: 0,
            pieces: vec![(0, 1), (0, 2), (1, 1)],
            rest: 128,
        };
        let cuts = board_cuts(&problem, &board);
        let written: Vec<_> = cuts
            .steps
            .iter()
            .map(|step| (step.distance, step.before, step.after, step.setting))
            .collect();
        assert_eq!(
            written,
            [
                (10, 1000, Some(990), 1),
                (300, 990, Some(686), 2),
                (300, 686, Some(382), 2),
                (250, 382, Some(128), 3),
            ]
        );
        assert_eq!((cuts.last, cuts.rest), (None, 128));
    }
}
