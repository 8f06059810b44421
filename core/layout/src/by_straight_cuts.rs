//! Boxes on sheets by the search for straight cuts, and from there by free ones, where that takes fewer sheets.

use jigless_model::geom::Point;
use jigless_model::plan::StockSheet;
use jigless_model::sheets::{
    Effort, PieceKind, Saw, Settings, SheetOrigin, SheetProblem, SheetSize, Trims, micrometres,
    millimetres,
};

use crate::free::{FreeSheet, Lies, fewer_sheets};
use crate::piece::{Piece, Position};
use crate::straight::{Prepared, answer};

/// A sheet, whether it is at hand, and where pieces lie on it.
type Filled = (StockSheet, bool, Vec<Position>);

/// Sheets for all pieces, fewer than so many; `None` where there are none.
pub(super) fn fewer(
    pieces: &[Piece],
    sizes: &[StockSheet],
    settings: &Settings,
    than: usize,
) -> Option<Vec<Filled>> {
    let largest = sizes
        .iter()
        .max_by(|a, b| (a.width * a.height).total_cmp(&(b.width * b.height)))?;
    let at_hand = settings.bed.is_none();
    let size = |sheet: &StockSheet, origin: SheetOrigin| SheetSize {
        width: micrometres(sheet.width),
        height: micrometres(sheet.height),
        count: (origin == SheetOrigin::AtHand).then_some(sheet.count),
        price: None,
        origin,
        trims: Trims::all(micrometres(settings.margin)),
    };
    let mut offered: Vec<StockSheet> = Vec::new();
    let mut problem = SheetProblem {
        saw: Saw {
            kerf: micrometres(settings.spacing),
            // What is saved here goes into free cuts.
            effort: settings.effort.min(Effort::Good),
            ..Saw::default()
        },
        ..SheetProblem::default()
    };
    for sheet in sizes.iter().filter(|_| at_hand) {
        offered.push(*sheet);
        problem.sizes.push(size(sheet, SheetOrigin::AtHand));
    }
    offered.push(*largest);
    problem.sizes.push(size(largest, SheetOrigin::ToBuy));
    // The copies of a kind follow one another, and are alike.
    let mut firsts: Vec<usize> = Vec::new();
    for (index, piece) in pieces.iter().enumerate() {
        match problem.pieces.last_mut() {
            Some(kind) if pieces[firsts[firsts.len() - 1]].kind == piece.kind => kind.count += 1,
            _ => {
                let bounds = piece.outline.turned(piece.turns[0]).bounds()?;
                // Up to the next micrometre, so that rounding never brings two outlines nearer to each other.
                let whole = |size: f64| micrometres(size + 0.000_499);
                problem.pieces.push(PieceKind {
                    width: whole(bounds.width()),
                    height: whole(bounds.height()),
                    may_turn: piece
                        .turns
                        .iter()
                        .any(|turn| turn % 2 != piece.turns[0] % 2),
                    count: 1,
                    oversize: 0,
                    priority: 0,
                    group: piece.group,
                });
                firsts.push(index);
            }
        }
    }
    let prepared = Prepared::new(&problem);
    if than <= prepared.bound {
        return None;
    }
    let by_cuts = answer(&prepared);
    if !by_cuts.left.is_empty() {
        return None;
    }
    let sheets = fewer_sheets(&prepared, &by_cuts, settings.effort);
    let mut copies = vec![0; problem.pieces.len()];
    let mut position = |&(kind, turned, (x, y)): &Lies| {
        let number = firsts[kind] + copies[kind];
        copies[kind] += 1;
        let of = &pieces[number];
        let quarters = of.turns[0] + u8::from(turned);
        let bounds = of.outline.turned(quarters).bounds()?;
        Some(Position {
            piece: number,
            quarters,
            at: Point::new(millimetres(x), millimetres(y)) - bounds.min,
        })
    };
    let filled = sheets.iter().map(|sheet: &FreeSheet| {
        let origin = problem.sizes[sheet.size].origin;
        let known = origin == SheetOrigin::AtHand || settings.bed.is_some();
        let positions = sheet.pieces.iter().filter_map(&mut position).collect();
        (offered[sheet.size], known, positions)
    });
    (sheets.len() < than).then(|| filled.collect())
}
