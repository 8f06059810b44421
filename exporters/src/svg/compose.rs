//! A drawing to look at and plot: a face with its labels, a check line and a caption.

use jigless_model::caution::Caution;
use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::side::Face;
use jigless_model::workpiece::Workpiece;

use super::options::SvgDrillingOptions;
use crate::cautions;
use crate::drawing::caption::Caption;
use crate::drawing::label_layout::LabelLayout;
use crate::drawing::measure::Lengths;
use crate::drawing::text::{LABEL, LEADING};
use crate::drawing::{Item, Pen, Role, TextLine, face};
use crate::drawings::part_sheet::face_dimensions;

/// Room for the words behind the check line, in millimetres.
const CHECK_WORDS: f64 = 15.0;
/// Length of the check line, in millimetres.
const CHECK: f64 = 100.0;

/// The drawing of a face with what stands around it, in view coordinates, and the box of the whole.
pub(super) fn compose(
    input: &ExportInput,
    workpiece: &Workpiece,
    side: Face,
    options: &SvgDrillingOptions,
    cautions: &[Caution],
) -> (Bounds, Vec<Item>) {
    let lengths = Lengths::on_paper(input.plan.units, options.units, options.fractions);
    let drawing = face::draw(&workpiece.seen_from(side), options.inks.into(), lengths);
    let mut items = drawing.items;
    let mut extent = drawing.extent;
    if options.dimensions {
        // A group of its own, which a viewer can switch off.
        let dimensions = face_dimensions(workpiece, side, lengths);
        let boxes = dimensions.iter().filter_map(Item::bounds);
        extent = boxes.fold(extent, Bounds::union);
        items.extend(dimensions);
    }
    let mut canvas = extent.grown(options.margin);
    if options.labels || options.check_line {
        let least = CHECK + CHECK_WORDS + 2.0 * options.margin.max(2.0);
        canvas.max.x = canvas.max.x.max(canvas.min.x + least);
    }
    let mut unplaced = Vec::new();
    if options.labels {
        let mut layout = LabelLayout::new(canvas.grown(-1.0), &items);
        for request in &drawing.requests {
            match layout.place(request) {
                Some(label) => items.extend(label),
                None if request.role == Role::Note => {}
                None => unplaced.extend(request.blocks.first().map(|block| block.lines.join(", "))),
            }
        }
    }
    if options.check_line {
        canvas.min.y -= 9.0;
        let at = canvas.min + Point::new(options.margin.max(2.0), 5.0);
        items.extend(check_line(at, options.labels));
    }
    if options.labels {
        let inset = options.margin.max(2.0);
        items.extend(cautions::under(&mut canvas, inset, cautions));
        let caption = Caption::new(input, &workpiece.part, side, lengths);
        let mut lines = vec![caption.face, caption.make, caption.size, caption.plan];
        lines.extend(caption.pair);
        if !unplaced.is_empty() {
            lines.push("no room on the drawing for:".to_owned());
            lines.append(&mut unplaced);
        }
        let step = LABEL * LEADING;
        let x = canvas.min.x + options.margin.max(2.0);
        let room = canvas.max.x - options.margin.max(2.0) - x;
        canvas.max.y += step * (lines.len() as f64 + 2.5);
        let mut y = canvas.max.y - step * 1.6;
        let title = TextLine::new(Point::new(x, y), 5.0, &caption.part).bold();
        items.push(Item::text(Role::Frame, title.fitted(room)));
        for line in lines {
            y -= step;
            let text = TextLine::new(Point::new(x, y), LABEL, &line);
            items.push(Item::text(Role::Frame, text.fitted(room)));
        }
    }
    (canvas, items)
}

/// A line of 100 mm with an end stroke at both ends.
fn check_line(from: Point, with_words: bool) -> Vec<Item> {
    let to = from + Point::new(CHECK, 0.0);
    let end = Point::new(0.0, 2.0);
    // One path: the bar and its ends in one go, so that a cutter or plotter does not lift three times.
    let bar = [from + end, from - end, from, to, to + end, to - end];
    let mut items = vec![Item::stroke(
        Role::CheckBar,
        Path::of_points(bar, false),
        Pen::THIN,
    )];
    if with_words {
        let at = to + Point::new(2.0, -1.1);
        items.push(Item::text(
            Role::CheckBar,
            TextLine::new(at, LABEL, "100 mm"),
        ));
    }
    items
}
