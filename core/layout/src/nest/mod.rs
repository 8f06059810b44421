//! Outlines on fewer sheets and a shorter last one, for machines that cut along them.
//!
//! | file | does |
//! |---|---|
//! | `no_fit` | where one piece may not lie as seen from another one, and how far it is from there |
//! | `pairs` | kinds of pieces, and the no-fit polygons of every two |
//! | `search` | takes pieces apart that overlap |
//! | `refill` | some sheets emptied in part and filled again |
//! | `budget` | how long better places are looked for |
//! | `strip` | one sheet fewer, then the last one as short as is found |
//!
//! It begins with sheets that are filled already, and ends when an amount of work is done, never by the clock.

mod budget;
mod no_fit;
mod pairs;
mod refill;
mod search;
mod strip;

use jigless_model::geom::{Bounds, Point};
use jigless_model::plan::StockSheet;
use jigless_model::sheets::{Settings, usable};
use sha2::{Digest, Sha256};

use crate::piece::{Piece, Position};
use budget::Budget;
use pairs::{Kind, Pairs};
use search::{Search, Spot};
use strip::Strip;

/// A sheet, whether it is at hand, and where pieces lie on it.
pub(crate) type Filled = (StockSheet, bool, Vec<Position>);

/// Lists of more pieces stay as they are: every two pieces are looked at.
const MOST_PIECES: usize = 400;

/// More sides than these to put together for no-fit polygons take too long.
const MOST_SIDES: usize = 8_000_000;

/// Improves filled sheets. The same sheets give the same ones.
pub(crate) fn improve(pieces: &[Piece], sheets: &mut Vec<Filled>, settings: &Settings) {
    if pieces.len() > MOST_PIECES || sheets.is_empty() {
        return;
    }
    let (kinds, firsts) = kinds_of(pieces);
    let boxes = firsts
        .iter()
        .filter_map(|&first| pieces[first].outline.bounds());
    let sizes: Vec<(f64, f64)> = boxes.map(|b| (b.width(), b.height())).collect();
    let made: Vec<Kind> = firsts
        .iter()
        .map(|&first| Kind::new(&pieces[first], &sizes))
        .collect();
    if Pairs::work(&made) > MOST_SIDES {
        return;
    }
    let pairs = Pairs::new(made, settings.spacing);
    let rooms: Vec<Bounds> = sheets
        .iter()
        .map(|sheet| usable(sheet.0, settings))
        .collect();
    let mut spots = vec![None; pieces.len()];
    for (sheet, (_, _, places)) in sheets.iter().enumerate() {
        for place in places {
            let (quarters, at) =
                pairs.kinds[kinds[place.piece]].as_searched(place.quarters, place.at);
            spots[place.piece] = Some(Spot {
                sheet,
                quarters,
                at,
            });
        }
    }
    let Some(spots) = spots.into_iter().collect::<Option<Vec<Spot>>>() else {
        return;
    };
    let search = Search::new(&pairs, &kinds, rooms, &spots, seed(pieces, settings));
    if search.overlap() > 0.0 {
        return;
    }
    let kept: Vec<(StockSheet, bool)> = sheets.iter().map(|sheet| (sheet.0, sheet.1)).collect();
    let mut strip = Strip::new(&pairs, search, Budget::new(settings.effort, pieces));
    let order = strip.fewer_sheets(kept.iter().map(|(_, at_hand)| !at_hand).collect());
    strip.shorten();
    *sheets = order
        .iter()
        .map(|&number| (kept[number].0, kept[number].1, Vec::new()))
        .collect();
    for (piece, spot) in strip.spots().iter().enumerate() {
        sheets[spot.sheet].2.push(Position {
            piece,
            quarters: spot.quarters,
            at: spot.at,
        });
    }
}

/// The kind of each piece, numbered from 0, and the first piece of each.
fn kinds_of(pieces: &[Piece]) -> (Vec<usize>, Vec<usize>) {
    let mut firsts: Vec<usize> = Vec::new();
    let mut kinds = Vec::with_capacity(pieces.len());
    for (number, piece) in pieces.iter().enumerate() {
        let known = firsts
            .iter()
            .position(|&first| pieces[first].kind == piece.kind);
        kinds.push(known.unwrap_or(firsts.len()));
        if known.is_none() {
            firsts.push(number);
        }
    }
    (kinds, firsts)
}

/// A number that hangs on the pieces alone.
fn seed(pieces: &[Piece], settings: &Settings) -> u64 {
    let mut digest = Sha256::new();
    let mut add = |point: Point| {
        digest.update(((point.x * 1000.0).round() as i64).to_le_bytes());
        digest.update(((point.y * 1000.0).round() as i64).to_le_bytes());
    };
    add(Point::new(settings.spacing, settings.margin));
    for piece in pieces {
        for vertex in &piece.outline.vertices {
            add(vertex.point);
        }
    }
    let bytes: [u8; 32] = digest.finalize().into();
    bytes[..8]
        .iter()
        .fold(0, |seed, byte| seed << 8 | u64::from(*byte))
}
