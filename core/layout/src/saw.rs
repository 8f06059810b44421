//! The parts of a plan on sheets and boards, by straight cuts.

use std::sync::Arc;

use jigless_model::geom::{Bounds, LENGTH_TOLERANCE, Point, rectangle};
use jigless_model::plan::{Grain, Offcut, Stock, StockBoard, StockSheet};
use jigless_model::sheets::{
    ArrangedSheet, Arrangement, BoardLength, BoardPiece, BoardProblem, Effort, Handling,
    Micrometres, PieceKind, Placed, Saw, SawSettings, SheetAnswer, SheetOrigin, SheetProblem,
    SheetSize, StockGoods, StockLayout, Trims, micrometres, millimetres,
};
use jigless_model::workpiece::Workpiece;

use crate::boards::cut_boards;
use crate::groups;
use crate::straight::cut_sheets;

/// Greater priorities are not told apart: areas are multiplied by them.
const MOST_PRIORITY: u32 = 100;

/// Lays out the parts of one stock.
pub(super) fn lay_out(
    workpieces: &[Workpiece],
    stock: &Arc<Stock>,
    settings: &SawSettings,
    effort: Effort,
    arrangement: &mut Arrangement,
) {
    let numbers: Vec<usize> = (0..workpieces.len())
        .filter(|&index| workpieces[index].part.stock.id == stock.id)
        .collect();
    if !stock.sheets.is_empty() {
        let problem = sheet_problem(workpieces, &numbers, stock, settings, effort);
        let answer = cut_sheets(&problem);
        let number = arrangement.stocks.len();
        arrangement
            .too_large
            .extend(answer.left.iter().map(|(kind, _)| numbers[*kind]));
        place(
            workpieces,
            &numbers,
            (stock, number),
            &problem,
            &answer,
            arrangement,
        );
        arrangement.stocks.push(StockLayout {
            stock: Arc::clone(stock),
            workpieces: numbers,
            goods: StockGoods::Sheets(problem, answer),
        });
    } else if stock.boards.is_empty() {
        arrangement.without_sizes.push(stock.id.clone());
    } else {
        lay_out_boards(workpieces, &numbers, stock, settings, arrangement);
    }
}

/// How a part lies on a sheet before it is turned: with its grain upward.
fn quarters(grain: Grain) -> u8 {
    match grain {
        Grain::Width => 1,
        Grain::Height | Grain::None => 0,
    }
}

fn bounds(workpiece: &Workpiece, quarters: u8) -> Bounds {
    let outline = workpiece.outline().turned(quarters);
    outline.bounds().unwrap_or(Bounds::of_size(0.0, 0.0))
}

/// What is left on at each edge of a part, where its outline is more than straight cuts make.
fn oversize(workpiece: &Workpiece, settings: &SawSettings) -> Micrometres {
    let box_of = rectangle(bounds(workpiece, 0));
    let is_square = (workpiece.outline().area() - box_of.area()).abs() < LENGTH_TOLERANCE;
    if is_square {
        0
    } else {
        micrometres(settings.oversize)
    }
}

fn sheet_problem(
    workpieces: &[Workpiece],
    numbers: &[usize],
    stock: &Stock,
    settings: &SawSettings,
    effort: Effort,
) -> SheetProblem {
    let groups = groups::of(workpieces, numbers);
    let piece = |(&number, group): (&usize, &Option<u32>)| {
        let workpiece = &workpieces[number];
        let part = &workpiece.part;
        let bounds = bounds(workpiece, quarters(part.grain));
        let oversize = oversize(workpiece, settings);
        PieceKind {
            width: micrometres(bounds.width()) + 2 * oversize,
            height: micrometres(bounds.height()) + 2 * oversize,
            may_turn: part.grain == Grain::None,
            count: part.count,
            oversize,
            priority: part.priority.min(MOST_PRIORITY).cast_signed(),
            group: *group,
        }
    };
    let pieces: Vec<PieceKind> = numbers.iter().zip(&groups).map(piece).collect();
    let trim = micrometres(settings.trim);
    let size = |sheet: &StockSheet, origin: SheetOrigin| {
        let (width, height) = (micrometres(sheet.width), micrometres(sheet.height));
        let fits = |piece: &PieceKind, trim: Micrometres| {
            let holds = |w, h| w <= width - 2 * trim && h <= height - 2 * trim;
            holds(piece.width, piece.height) || (piece.may_turn && holds(piece.height, piece.width))
        };
        let untrimmed = pieces
            .iter()
            .any(|piece| fits(piece, 0) && !fits(piece, trim));
        SheetSize {
            width,
            height,
            count: (origin == SheetOrigin::AtHand).then_some(sheet.count),
            price: sheet.price,
            origin,
            trims: Trims::all(if untrimmed { 0 } else { trim }),
        }
    };
    let at_hand = stock
        .sheets
        .iter()
        .map(|sheet| size(sheet, SheetOrigin::AtHand));
    let left_over = |offcut: &Offcut| SheetSize {
        width: micrometres(offcut.width),
        height: micrometres(offcut.height),
        count: Some(offcut.count),
        price: None,
        origin: SheetOrigin::Leftover,
        trims: Trims::default(),
    };
    let mut sizes: Vec<SheetSize> = stock.offcuts.iter().map(left_over).collect();
    sizes.extend(at_hand);
    sizes.extend(
        sold(stock)
            .into_iter()
            .map(|sheet| size(sheet, SheetOrigin::ToBuy)),
    );
    let density = stock
        .density
        .map(|density| density * stock.thickness / 1000.0);
    let square_metres = settings
        .heaviest
        .zip(density)
        .map(|(most, each)| most / each);
    SheetProblem {
        sizes,
        pieces,
        saw: Saw {
            kerf: micrometres(settings.kerf),
            handling: Handling {
                longest: settings.longest.map(micrometres),
                largest: square_metres.map(|area| (area * 1e12) as i64),
            },
            guide_offset: settings.guide_offset.map(micrometres),
            narrow: micrometres(settings.narrow),
            keep: micrometres(settings.keep),
            stages: settings.stages,
            effort,
        },
    }
}

/// The sizes that can be bought: those with a price, or the one that holds the most.
fn sold(stock: &Stock) -> Vec<&StockSheet> {
    let priced: Vec<&StockSheet> = stock
        .sheets
        .iter()
        .filter(|sheet| sheet.price.is_some())
        .collect();
    if !priced.is_empty() {
        return priced;
    }
    let largest = stock
        .sheets
        .iter()
        .max_by(|a, b| (a.width * a.height).total_cmp(&(b.width * b.height)));
    largest.into_iter().collect()
}

/// Adds the sheets of an answer with their parts where they lie.
fn place(
    workpieces: &[Workpiece],
    numbers: &[usize],
    (stock, layout): (&Arc<Stock>, usize),
    problem: &SheetProblem,
    answer: &SheetAnswer,
    arrangement: &mut Arrangement,
) {
    for (index, sheet) in answer.sheets.iter().enumerate() {
        let size = &problem.sizes[sheet.size];
        let pieces = sheet.pieces();
        let placed = pieces.iter().map(|(at, piece)| {
            let number = numbers[piece.kind];
            let workpiece = &workpieces[number];
            let quarters = quarters(workpiece.part.grain) + u8::from(piece.turned);
            let oversize = problem.pieces[piece.kind].oversize;
            let corner = Point::new(millimetres(at.x + oversize), millimetres(at.y + oversize));
            Placed {
                workpiece: number,
                copy: piece.copy,
                quarters,
                at: corner - bounds(workpiece, quarters).min,
            }
        });
        let used = pieces
            .iter()
            .map(|(_, piece)| workpieces[numbers[piece.kind]].region().area());
        arrangement.sheets.push(ArrangedSheet {
            stock: Arc::clone(stock),
            number: index + 1,
            width: millimetres(size.width),
            height: millimetres(size.height),
            at_hand: size.origin != SheetOrigin::ToBuy,
            placed: placed.collect(),
            used: used.sum(),
            cuts: Some((layout, index)),
        });
    }
}

/// Boards of one width after the other, the widest first.
fn lay_out_boards(
    workpieces: &[Workpiece],
    numbers: &[usize],
    stock: &Arc<Stock>,
    settings: &SawSettings,
    arrangement: &mut Arrangement,
) {
    // Length along the grain and width across it, as cut.
    let size = |number: usize| {
        let workpiece = &workpieces[number];
        let oversize = 2 * oversize(workpiece, settings);
        let bounds = bounds(workpiece, quarters(workpiece.part.grain));
        let (mut width, mut length) = (bounds.width(), bounds.height());
        if workpiece.part.grain == Grain::None && width > length {
            (width, length) = (length, width);
        }
        (
            micrometres(width) + oversize,
            micrometres(length) + oversize,
        )
    };
    let mut widths: Vec<Micrometres> = numbers.iter().map(|&number| size(number).0).collect();
    widths.sort_unstable_by(|a, b| b.cmp(a));
    widths.dedup();
    for width in widths {
        let kinds: Vec<usize> = numbers
            .iter()
            .copied()
            .filter(|&number| size(number).0 == width)
            .collect();
        let has_width =
            |board: &&StockBoard| board.width.is_none_or(|own| micrometres(own) == width);
        let boards: Vec<&StockBoard> = stock.boards.iter().filter(has_width).collect();
        let any_price = boards.iter().any(|board| board.price.is_some());
        let length = |board: &&StockBoard, origin: SheetOrigin| BoardLength {
            length: micrometres(board.length),
            count: board.count.filter(|_| origin == SheetOrigin::AtHand),
            price: board.price,
            origin,
        };
        let at_hand = boards.iter().filter(|board| board.count.is_some());
        let sold = boards
            .iter()
            .filter(|board| board.price.is_some() || !any_price);
        let as_wide = |offcut: &&Offcut| micrometres(offcut.width) == width;
        let left_over = stock.offcuts.iter().filter(as_wide);
        let mut lengths: Vec<BoardLength> = left_over
            .map(|offcut| BoardLength {
                length: micrometres(offcut.height),
                count: Some(offcut.count),
                price: None,
                origin: SheetOrigin::Leftover,
            })
            .collect();
        lengths.extend(at_hand.map(|board| length(board, SheetOrigin::AtHand)));
        lengths.extend(sold.map(|board| length(board, SheetOrigin::ToBuy)));
        let pieces = kinds.iter().map(|&number| BoardPiece {
            length: size(number).1,
            count: workpieces[number].part.count,
        });
        let problem = BoardProblem {
            width,
            lengths,
            pieces: pieces.collect(),
            kerf: micrometres(settings.kerf),
            end_trim: micrometres(settings.end_trim),
        };
        let answer = cut_boards(&problem);
        arrangement
            .too_large
            .extend(answer.left.iter().map(|(kind, _)| kinds[*kind]));
        arrangement.stocks.push(StockLayout {
            stock: Arc::clone(stock),
            workpieces: kinds,
            goods: StockGoods::Boards(problem, answer),
        });
    }
}
