//! The names of parts and of their work on a sheet, clear of every line.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point, rectangle};
use jigless_model::sheets::ArrangedSheet;

use super::drawing::{CHARACTER_WIDTH, LayerDrawing, LayerShape, NoteText};
use super::layers::Layer;
use super::references;
use super::sheet_frame::SheetFrame;

/// Height of letters, in millimetres, greatest and least. Common practice, no source.
const LETTERS: (f64, f64) = (20.0, 2.0);
/// Where in a part its name is tried, as shares of its size, from the middle outward.
const SHARES: [f64; 7] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];

/// Writes the name of every part where it lies on no line, and beside it the names of its work that the notes use.
pub(super) fn draw(
    input: &ExportInput,
    sheet: &ArrangedSheet,
    frame: SheetFrame,
    drawing: &mut LayerDrawing,
) {
    for placed in &sheet.placed {
        let workpiece = &input.workpieces[placed.workpiece];
        let placing = frame.placing(placed, workpiece.part.width);
        let view = workpiece.seen_from(frame.face);
        let outline = view.contours.first().map(|cut| placing.path(&cut.path));
        let Some(bounds) = outline.and_then(|outline| outline.bounds()) else {
            continue;
        };
        if let Some(name) = name(&workpiece.part.id, bounds, drawing) {
            drawing.add(Layer::Notes, LayerShape::Text(name));
        }
        let height = (bounds.width().min(bounds.height()) / 12.0).clamp(LETTERS.1, 8.0);
        for (id, of) in references::of(&view) {
            if let Some(of) = placing.path(&rectangle(of)).bounds() {
                references::draw(&id, of, height, drawing);
            }
        }
    }
}

/// A name as large as fits in a box without lying on a line; `None` where there is no room for it.
fn name(id: &str, bounds: Bounds, drawing: &LayerDrawing) -> Option<NoteText> {
    let upward = bounds.height() > bounds.width();
    let (along, across) = if upward {
        (bounds.height(), bounds.width())
    } else {
        (bounds.width(), bounds.height())
    };
    let letters = id.chars().count() as f64 * CHARACTER_WIDTH;
    let mut height = (0.7 * along / letters).min(0.3 * across).min(LETTERS.0);
    while height >= LETTERS.1 {
        let half = Point::new(letters * height / 2.0, height / 2.0);
        let half = if upward {
            Point::new(half.y, half.x)
        } else {
            half
        };
        let places = SHARES
            .iter()
            .flat_map(|up| SHARES.map(|over| (over, *up)))
            .map(|(over, up)| bounds.min + Point::new(over * bounds.width(), up * bounds.height()));
        let free = places
            .map(|at| Bounds::new(at - half, at + half))
            .find(|strip| bounds.contains_box(*strip, 0.0) && drawing.is_clear(*strip));
        if let Some(strip) = free {
            let at = if upward {
                Point::new(strip.max.x, strip.min.y)
            } else {
                strip.min
            };
            return Some(NoteText {
                at,
                centred: false,
                height,
                upward,
                content: id.to_owned(),
            });
        }
        height *= 0.7;
    }
    None
}
