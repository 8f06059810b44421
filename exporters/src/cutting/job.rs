//! What is cut, and what everything on it is called.

use jigless_model::export::ExportInput;
use jigless_model::mark::Marks;
use jigless_model::plan::Part;
use jigless_model::sheets::{
    Arrangement, BoardAnswer, BoardProblem, CutMark, CutPiece, CutSheet, CutStep, Micrometres,
    SheetProblem, SheetSize, StockLayout, millimetres,
};

use jigless_words::{CutWords, said};

use super::board_cuts::{BoardStep, board_cuts};
use crate::drawing::measure::Lengths;

/// All that is cut of a plan.
pub(super) struct Job<'a> {
    pub(super) input: ExportInput<'a>,
    pub(super) arrangement: &'a Arrangement,
    pub(super) marks: Marks,
    /// How lengths are written.
    pub(super) lengths: Lengths,
    /// The least length of a board's rest that is kept.
    pub(super) keep: Micrometres,
}

/// A sheet and its cuts.
pub(super) struct SheetJob<'a> {
    pub(super) layout: &'a StockLayout,
    pub(super) problem: &'a SheetProblem,
    pub(super) sheet: &'a CutSheet,
    pub(super) size: &'a SheetSize,
    /// Its number among the sheets of its stock, from 1.
    pub(super) number: usize,
    /// How many sheets of its stock there are.
    pub(super) of: usize,
    pub(super) steps: Vec<CutStep>,
}

/// The pieces of one kind on a sheet.
pub(super) struct KindOnSheet<'a> {
    pub(super) mark: String,
    pub(super) part: &'a Part,
    /// How many of them lie on this sheet.
    pub(super) here: usize,
    /// Their size in words.
    pub(super) size: String,
}

/// A board and its cuts.
pub(super) struct BoardJob<'a> {
    pub(super) layout: &'a StockLayout,
    pub(super) problem: &'a BoardProblem,
    /// Its number among the boards of its stock and width, from 1.
    pub(super) number: usize,
    /// Its whole length.
    pub(super) length: Micrometres,
    /// Its pieces from one end on: number of the kind, and which copy.
    pub(super) pieces: &'a [(usize, u32)],
    pub(super) steps: Vec<BoardStep>,
    /// What no cut is needed for any more: the piece that the board is in the end, if it is one.
    pub(super) last: Option<(usize, u32)>,
    /// What is left at the other end.
    pub(super) rest: Micrometres,
}

impl<'a> Job<'a> {
    /// The job of a plan; `None` where nothing was arranged.
    pub(super) fn new(
        input: &ExportInput<'a>,
        lengths: Lengths,
        keep: Micrometres,
    ) -> Option<Self> {
        Some(Self {
            input: *input,
            arrangement: input.sheets?,
            marks: Marks::of(input.plan),
            lengths,
            keep,
        })
    }

    /// The words of cuts.
    pub(super) fn words(&self) -> &'static CutWords {
        &self.lengths.words.cutting
    }

    /// The part that a kind of piece is.
    pub(super) fn part(&self, layout: &StockLayout, kind: usize) -> &'a Part {
        &self.input.workpieces[layout.workpieces[kind]].part
    }

    /// The mark of a piece: `B`, or `B2` for the second of several.
    pub(super) fn piece(&self, layout: &StockLayout, kind: usize, copy: u32) -> String {
        let part = self.part(layout, kind);
        let mark = self.marks.mark(&part.id);
        match part.count {
            1 => mark.to_owned(),
            _ => format!("{mark}{copy}"),
        }
    }

    /// What a rectangle is called: `sheet`, `board 3`, `B2`, `O1`, `waste`.
    pub(super) fn name(&self, layout: &StockLayout, mark: CutMark) -> String {
        match mark {
            CutMark::Sheet => self.words().sheet.to_owned(),
            CutMark::Board(number) => said(self.words().board_number, &[&number.to_string()]),
            CutMark::Piece(CutPiece { kind, copy, .. }) => self.piece(layout, kind, copy),
            CutMark::Offcut(number) => offcut_name(number),
            CutMark::Waste => self.words().waste.to_owned(),
        }
    }

    /// The same, with the title of a piece behind its mark.
    pub(super) fn full_name(&self, layout: &StockLayout, mark: CutMark) -> String {
        let name = self.name(layout, mark);
        match mark {
            CutMark::Piece(piece) => with_title(&name, &self.part(layout, piece.kind).title),
            _ => name,
        }
    }

    /// A length, without its unit.
    pub(super) fn length(&self, length: Micrometres) -> String {
        self.lengths.bare(millimetres(length))
    }

    /// What a cut takes, without its unit: with decimals, since it is measured with a caliper and adds up.
    pub(super) fn kerf(&self, kerf: Micrometres) -> String {
        self.lengths.for_calipers().bare(millimetres(kerf))
    }

    /// What lies on a sheet, kind by kind in the order of the marks.
    pub(super) fn kinds_on(&self, sheet: &SheetJob) -> Vec<KindOnSheet<'a>> {
        let pieces = sheet.sheet.pieces();
        let mut kinds: Vec<usize> = pieces.iter().map(|(_, piece)| piece.kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        let mut on_it: Vec<KindOnSheet> = kinds
            .into_iter()
            .map(|kind| {
                let part = self.part(sheet.layout, kind);
                let piece = &sheet.problem.pieces[kind];
                let own = pieces.iter().filter(|(_, piece)| piece.kind == kind);
                KindOnSheet {
                    mark: self.marks.mark(&part.id).to_owned(),
                    part,
                    here: own.count(),
                    size: self.size(piece.width, piece.height),
                }
            })
            .collect();
        on_it.sort_by(|a, b| (a.mark.len(), &a.mark).cmp(&(b.mark.len(), &b.mark)));
        on_it
    }

    /// Across and upward, without their unit.
    pub(super) fn size(&self, width: Micrometres, height: Micrometres) -> String {
        format!("{} × {}", self.length(width), self.length(height))
    }
}

/// The sheets of a stock; none where it is sold in boards.
pub(super) fn sheet_jobs(layout: &StockLayout) -> Vec<SheetJob<'_>> {
    let Some((problem, answer)) = layout.sheets() else {
        return Vec::new();
    };
    let sheets = answer.sheets.iter().enumerate();
    sheets
        .map(|(index, sheet)| SheetJob {
            layout,
            problem,
            sheet,
            size: &problem.sizes[sheet.size],
            number: index + 1,
            of: answer.sheets.len(),
            steps: layout.cut_list(sheet),
        })
        .collect()
}

/// The boards of a stock; none where it is sold in sheets.
pub(super) fn board_jobs(layout: &StockLayout) -> Vec<BoardJob<'_>> {
    let Some((problem, answer)) = layout.boards() else {
        return Vec::new();
    };
    let BoardAnswer { boards, .. } = answer;
    let jobs = boards.iter().enumerate().map(|(index, board)| {
        let cut = board_cuts(problem, board);
        BoardJob {
            layout,
            problem,
            number: index + 1,
            length: problem.lengths[board.length].length,
            pieces: &board.pieces,
            steps: cut.steps,
            last: cut.last,
            rest: cut.rest,
        }
    });
    jobs.collect()
}

/// What an offcut is called. No part has the mark O.
pub(super) fn offcut_name(number: u32) -> String {
    format!("O{number}")
}

/// A mark and what the part is called.
pub(super) fn with_title(mark: &str, title: &str) -> String {
    format!("{mark} ({title})")
}

/// The path of a picture without extension: letters, digits, `_` and `-` of the stock's id, and a number.
pub(super) fn stem(kind: &str, layout: &StockLayout, number: usize) -> String {
    let plain = |c: char| {
        if c.is_ascii_alphanumeric() || c == '_' {
            c
        } else {
            '-'
        }
    };
    let id: String = layout.stock.id.chars().map(plain).collect();
    format!("{kind}-{id}-{number}")
}
