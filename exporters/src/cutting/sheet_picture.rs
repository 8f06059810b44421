//! A sheet with its pieces, offcuts and cuts, to scale.

use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::plan::Grain;
use jigless_model::sheets::{
    CutContent, CutDirection, CutMark, CutRectangle, CutStep, GoodSide, Micrometres, millimetres,
};

use jigless_words::{CutWords, said};

use super::job::{Job, SheetJob, offcut_name};
use super::sketch::{RectangleLabel, SMALLEST, Sketch, WASTE, piece_ink};
use crate::drawing::text::LABEL;
use crate::drawing::{Anchor, Ink, Item, Pen, Role, TextLine, Tint, Turn};

/// Room at the left for the height and the grain, in millimetres.
pub(super) const LEFT: f64 = 13.0;
/// Room below for the width, in millimetres.
pub(super) const BELOW: f64 = 6.0;
/// Room at the other two sides for numbers of trims, in millimetres.
pub(super) const BESIDE: f64 = 3.0;
/// A piece whose shorter side on the paper is less, in millimetres, gets its mark before cuts get their numbers.
const SMALL: f64 = 9.0;
/// Length of the arrow of the grain, in millimetres.
const ARROW: f64 = 28.0;

/// A picture, and what found no room in it.
pub(super) struct Picture {
    pub(super) items: Vec<Item>,
    /// Marks of pieces that found no room, and the numbers of cuts.
    pub(super) unplaced: Vec<String>,
}

/// Width and height of the picture of a sheet, with what stands around it, at one to `scale`.
pub(super) fn extent(sheet: &SheetJob, scale: f64) -> (f64, f64) {
    let size = sheet.size;
    (
        LEFT + BESIDE + millimetres(size.width) / scale,
        BELOW + BESIDE + millimetres(size.height) / scale,
    )
}

/// Draws a sheet at one to `scale`; `corner` is the lower left corner of the whole picture.
pub(super) fn draw(job: &Job, sheet: &SheetJob, corner: Point, scale: f64, tint: Tint) -> Picture {
    let (width, height) = extent(sheet, scale);
    let place = Place {
        zero: corner + Point::new(LEFT, BELOW),
        scale,
    };
    let mut sketch = Sketch::new(Bounds::new(corner, corner + Point::new(width, height)));
    let whole = CutRectangle {
        x: 0,
        y: 0,
        width: sheet.size.width,
        height: sheet.size.height,
    };
    let outline = place.bounds(whole);
    sketch.tint(outline, WASTE);
    for (at, content) in sheet.sheet.leaves() {
        match content {
            CutContent::Piece(_) => sketch.tint(place.bounds(at), piece_ink(tint)),
            CutContent::Offcut(_) => {
                sketch.tint(place.bounds(at), Ink(255, 255, 255));
                sketch.hatch(place.bounds(at));
            }
            CutContent::Waste | CutContent::Split(_) => {}
        }
    }
    sketch.outline(outline, Pen::BOLD);
    around(job, sheet, outline, &mut sketch);
    let mut unplaced = Vec::new();
    let cuts: Vec<(usize, &CutStep)> = sheet
        .steps
        .iter()
        .map(|step| (place.cut(&mut sketch, sheet.sheet.kerf, step), step))
        .collect();
    let leaves = sheet.sheet.leaves();
    // The marks of small pieces come before numbers, which may stand elsewhere on their lines.
    let is_small = |at: &CutRectangle| millimetres(at.width.min(at.height)) / scale < SMALL;
    let (small, large): (Vec<_>, Vec<_>) = leaves.into_iter().partition(|(at, _)| is_small(at));
    for (at, content) in small {
        unplaced.extend(label(job, sheet, &place, &mut sketch, at, content));
    }
    let without = numbers(&mut sketch, cuts);
    for (at, content) in large {
        unplaced.extend(label(job, sheet, &place, &mut sketch, at, content));
    }
    if !without.is_empty() {
        let cuts = runs(job.words(), &without);
        unplaced.push(said(job.words().cut_number, &[&cuts]));
    }
    Picture {
        items: sketch.finish(),
        unplaced,
    }
}

/// Labels a piece or offcut; gives its mark where there was no room.
fn label(
    job: &Job,
    sheet: &SheetJob,
    place: &Place,
    sketch: &mut Sketch,
    at: CutRectangle,
    content: &CutContent,
) -> Option<String> {
    let (mark, title) = match content {
        CutContent::Piece(piece) => (
            job.piece(sheet.layout, piece.kind, piece.copy),
            job.part(sheet.layout, piece.kind).title.as_str(),
        ),
        CutContent::Offcut(number) => (offcut_name(*number), job.words().offcut),
        CutContent::Waste | CutContent::Split(_) => return None,
    };
    let label = RectangleLabel {
        mark: &mark,
        title,
        width: &job.length(at.width),
        height: &job.length(at.height),
    };
    (!sketch.label(place.bounds(at), &label)).then_some(mark)
}

/// Puts the numbers of cuts on their lines; gives those that found no room.
fn numbers(sketch: &mut Sketch, mut cuts: Vec<(usize, &CutStep)>) -> Vec<u32> {
    // Short lines have the least choice.
    cuts.sort_by_key(|(_, step)| (step.length, step.number));
    let mut without = Vec::new();
    for (line, step) in cuts {
        if !sketch.number(line, &step.number.to_string()) {
            without.push(step.number);
        }
    }
    without.sort_unstable();
    without
}

/// Numbers in words: `7, 9 to 12`.
fn runs(words: &CutWords, numbers: &[u32]) -> String {
    let runs = numbers.chunk_by(|a, b| a + 1 == *b);
    let runs = runs.map(|run| match run {
        [first, .., last] => said(words.range, &[&first.to_string(), &last.to_string()]),
        _ => run.iter().map(u32::to_string).collect(),
    });
    runs.collect::<Vec<_>>().join(", ")
}

/// The size of the sheet, and which way its grain runs.
fn around(job: &Job, sheet: &SheetJob, outline: Bounds, sketch: &mut Sketch) {
    let width = job.length(sheet.size.width);
    let height = job.length(sheet.size.height);
    let below = Point::new(outline.centre().x, outline.min.y - LABEL - 1.2);
    sketch.write(TextLine::new(below, LABEL, &width).anchored(Anchor::Middle));
    let beside = Point::new(outline.min.x - 3.0, outline.centre().y);
    sketch.write(
        TextLine::new(beside, LABEL, &height)
            .turned(Turn::Up)
            .anchored(Anchor::Middle),
    );
    if !has_grain(job, sheet) {
        return;
    }
    let x = outline.min.x - LEFT + 2.5;
    let length = ARROW.min(outline.height() - 12.0);
    if length < 5.0 {
        return;
    }
    let tip = Point::new(x, outline.min.y + length);
    let pen = Pen::new(0.35, Ink::BLACK);
    sketch.add([
        Item::line(Role::Note, Point::new(x, outline.min.y), tip, pen),
        Item::stroke(
            Role::Note,
            Path::of_points(
                [tip - Point::new(1.3, 3.2), tip, tip - Point::new(-1.3, 3.2)],
                false,
            ),
            pen,
        ),
    ]);
    let words = Point::new(x + 0.3 * SMALLEST, tip.y + 1.2);
    sketch.write(TextLine::new(words, LABEL, job.words().grain).turned(Turn::Up));
}

/// Whether the grain matters to any piece on a sheet.
pub(super) fn has_grain(job: &Job, sheet: &SheetJob) -> bool {
    let pieces = sheet.sheet.pieces();
    pieces
        .iter()
        .any(|(_, piece)| job.part(sheet.layout, piece.kind).grain != Grain::None)
}

/// Where a sheet lies on the paper.
struct Place {
    zero: Point,
    scale: f64,
}

impl Place {
    fn point(&self, x: Micrometres, y: Micrometres) -> Point {
        self.zero + Point::new(millimetres(x), millimetres(y)) * (1.0 / self.scale)
    }

    fn bounds(&self, at: CutRectangle) -> Bounds {
        Bounds::new(
            self.point(at.x, at.y),
            self.point(at.x + at.width, at.y + at.height),
        )
    }

    /// Draws a cut through the middle of what it takes away, and gives its line.
    fn cut(&self, sketch: &mut Sketch, kerf: Micrometres, step: &CutStep) -> usize {
        let middle = match step.good_side {
            GoodSide::Near => step.line() + kerf / 2,
            GoodSide::Far => step.line() - kerf / 2,
        };
        let at = step.at;
        let (from, to) = match step.direction {
            CutDirection::Along => {
                let x = middle.clamp(at.x, at.x + at.width);
                (self.point(x, at.y), self.point(x, at.y + at.height))
            }
            CutDirection::Across => {
                let y = middle.clamp(at.y, at.y + at.height);
                (self.point(at.x, y), self.point(at.x + at.width, y))
            }
        };
        let thick = if step.of == CutMark::Sheet { 0.6 } else { 0.3 };
        sketch.line(from, to, Pen::new(thick, Ink::BLACK))
    }
}

/// Marks of pieces that found no room stand here in words.
pub(super) fn unplaced_words(job: &Job, unplaced: &[String]) -> Option<String> {
    let words = job.words().no_room_for;
    (!unplaced.is_empty()).then(|| said(words, &[&unplaced.join(", ")]))
}
