//! Boards with their pieces and cuts, to scale along their length.

use jigless_model::geom::{Bounds, Point};
use jigless_model::sheets::{GoodSide, Micrometres, millimetres};

use jigless_words::said;

use super::cut_words::rest_name;
use super::job::{BoardJob, Job};
use super::sketch::{RectangleLabel, Sketch, WASTE, piece_ink};
use crate::drawing::text::LABEL;
use crate::drawing::{Ink, Item, Pen, TextLine, Tint};

/// Height of a board on the paper, in millimetres; its width is not to scale.
const BOARD: f64 = 12.0;
/// Height of the words over a board, in millimetres.
const WORDS: f64 = 6.0;
/// Height of a board with its words and what keeps it from the next, in millimetres.
pub(super) const HEIGHT: f64 = BOARD + WORDS + 3.0;
/// Room at the ends for numbers of trims, in millimetres.
const ENDS: f64 = 3.0;

/// Draws boards one under the other, each [`HEIGHT`] high: the first from a point downward and so far to the right.
pub(super) fn stacked(
    job: &Job,
    boards: &[BoardJob],
    (top_left, width): (Point, f64),
    longest: Micrometres,
    tint: Tint,
) -> Vec<Item> {
    let one = |(row, board): (usize, &BoardJob)| {
        let top = top_left.y - HEIGHT * row as f64;
        let inside = Bounds::new(
            Point::new(top_left.x, top - HEIGHT),
            Point::new(top_left.x + width, top),
        );
        draw(job, board, inside, longest, tint)
    };
    boards.iter().enumerate().flat_map(one).collect()
}

/// What is drawn of a board in a box as wide as the longest one.
fn draw(
    job: &Job,
    board: &BoardJob,
    inside: Bounds,
    longest: Micrometres,
    tint: Tint,
) -> Vec<Item> {
    let scale = (inside.width() - 2.0 * ENDS) / millimetres(longest.max(1));
    let bottom = inside.max.y - WORDS - BOARD;
    let x = |at: Micrometres| inside.min.x + ENDS + millimetres(at) * scale;
    let span = |from: Micrometres, to: Micrometres| {
        Bounds::new(
            Point::new(x(from), bottom),
            Point::new(x(to), bottom + BOARD),
        )
    };
    let mut sketch = Sketch::new(inside);
    let whole = span(0, board.length);
    sketch.tint(whole, WASTE);
    // What comes off, from the end on: where it begins and ends, and what it is called.
    let mut from = 0;
    let mut named: Vec<(Micrometres, Micrometres, String, &str)> = Vec::new();
    let mut lines = Vec::new();
    for step in &board.steps {
        let line = from + step.distance;
        let half = board.problem.kerf / 2;
        let middle = match step.good_side {
            GoodSide::Near => line + half,
            GoodSide::Far => line - half,
        };
        lines.push((middle.clamp(0, board.length), step.number));
        if let Some((kind, copy)) = step.piece {
            let title = job.part(board.layout, kind).title.as_str();
            named.push((from, line, job.piece(board.layout, kind, copy), title));
            from = line + board.problem.kerf;
        } else {
            from = line;
        }
    }
    if let Some((kind, copy)) = board.last {
        let title = job.part(board.layout, kind).title.as_str();
        let length = board.problem.pieces[kind].length;
        named.push((
            from,
            from + length,
            job.piece(board.layout, kind, copy),
            title,
        ));
    }
    for (from, to, ..) in &named {
        sketch.tint(span(*from, *to), piece_ink(tint));
    }
    if board.rest >= job.keep {
        let rest = (board.length - board.rest, board.length);
        sketch.tint(span(rest.0, rest.1), Ink(255, 255, 255));
        sketch.hatch(span(rest.0, rest.1));
        named.push((rest.0, rest.1, rest_name(job, board), job.words().offcut));
    }
    sketch.outline(whole, Pen::BOLD);
    let mut unplaced = Vec::new();
    let lines: Vec<(usize, u32)> = lines
        .into_iter()
        .map(|(at, number)| {
            let (from, to) = (Point::new(x(at), bottom), Point::new(x(at), bottom + BOARD));
            (sketch.line(from, to, Pen::new(0.4, Ink::BLACK)), number)
        })
        .collect();
    for (line, number) in lines {
        if !sketch.number(line, &number.to_string()) {
            unplaced.push(said(job.words().cut_number, &[&number.to_string()]));
        }
    }
    for (from, to, mark, title) in &named {
        let label = RectangleLabel {
            mark,
            title,
            width: &job.length(to - from),
            height: "",
        };
        if !sketch.label(span(*from, *to), &label) {
            unplaced.push(mark.clone());
        }
    }
    let put_in = [
        board.number.to_string(),
        job.length(board.problem.width),
        job.length(board.length),
    ];
    let words = said(
        job.words().board_above,
        &put_in.each_ref().map(String::as_str),
    );
    let words = if unplaced.is_empty() {
        words
    } else {
        said(job.words().no_room_below, &[&words, &unplaced.join(", ")])
    };
    let at = Point::new(inside.min.x, bottom + BOARD + 1.8);
    sketch.write(
        TextLine::new(at, LABEL, &words)
            .bold()
            .fitted(inside.width()),
    );
    sketch.finish()
}
