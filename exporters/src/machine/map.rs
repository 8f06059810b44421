//! A picture of all sheets, to find parts on them. Not for a machine.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Path, Point};
use jigless_model::units::decimal;
use svg::Document;
use svg::node::element::{Path as PathElement, Rectangle, Text};

/// Width of the picture, in millimetres: it fits between the margins of A4 and Letter.
const WIDTH: f64 = 180.0;
/// Between sheets, and height of the words, as shares of the widest sheet.
const GAP: f64 = 0.08;
const WORDS: f64 = 0.025;
/// How far straight pieces lie from an arc at most, in millimetres of the part.
const CHORD_ERROR: f64 = 0.2;

/// Draws the sheets below one another, each with its parts and their names.
pub(super) fn of_sheets(input: &ExportInput) -> String {
    let sheets = input
        .sheets
        .map_or(&[][..], |arrangement| &arrangement.sheets);
    let widest = sheets.iter().map(|sheet| sheet.width).fold(1.0, f64::max);
    let (gap, words) = (GAP * widest, WORDS * widest);
    let height: f64 = gap + sheets.iter().map(|sheet| sheet.height + gap).sum::<f64>();
    let number = |value: f64| decimal(value, 2);
    let mut document = Document::new()
        .set("width", format!("{}mm", number(WIDTH)))
        .set("height", format!("{}mm", number(WIDTH * height / widest)))
        .set(
            "viewBox",
            format!("0 0 {} {}", number(widest), number(height)),
        );
    let line = number(widest / 500.0);
    let mut top = gap;
    for sheet in sheets {
        let title = format!(
            "{}, sheet {}, waste {} % (NOT TO SCALE)",
            sheet.stock.label,
            sheet.number,
            decimal(100.0 * sheet.waste(), 1)
        );
        document = document
            .add(
                Text::new(title)
                    .set("x", 0)
                    .set("y", number(top - words / 2.0))
                    .set("font-size", number(words))
                    .set("font-family", "sans-serif"),
            )
            .add(
                Rectangle::new()
                    .set("x", 0)
                    .set("y", number(top))
                    .set("width", number(sheet.width))
                    .set("height", number(sheet.height))
                    .set("fill", "#eeeeee")
                    .set("stroke", "#000000")
                    .set("stroke-width", line.clone()),
            );
        let bottom = top + sheet.height;
        let at = |p: Point| Point::new(p.x, bottom - p.y);
        for placed in &sheet.placed {
            let workpiece = &input.workpieces[placed.workpiece];
            let mut data = String::new();
            for path in std::iter::once(workpiece.outline())
                .chain(workpiece.contours(jigless_model::operation::ContourSide::Inner))
            {
                data.push_str(&polygon(&placed.path(path), &at));
            }
            document = document.add(
                PathElement::new()
                    .set("d", data)
                    .set("fill", "#ffffff")
                    .set("fill-rule", "evenodd")
                    .set("stroke", "#0072b2")
                    .set("stroke-width", line.clone()),
            );
            let Some(bounds) = placed.path(workpiece.outline()).bounds() else {
                continue;
            };
            // Sans-serif letters are about 0.6 of their height wide.
            let id = &workpiece.part.id;
            let upward = bounds.height() > bounds.width();
            let (along, across) = if upward {
                (bounds.height(), bounds.width())
            } else {
                (bounds.width(), bounds.height())
            };
            let size = (along / (0.62 * id.chars().count() as f64))
                .min(0.5 * across)
                .min(words);
            let middle = at(bounds.centre());
            let turn = format!("rotate(-90 {} {})", number(middle.x), number(middle.y));
            let text = Text::new(id.clone());
            document = document.add(
                if upward {
                    text.set("transform", turn)
                } else {
                    text
                }
                .set("x", number(middle.x))
                .set("y", number(middle.y + size / 3.0))
                .set("text-anchor", "middle")
                .set("font-size", number(size))
                .set("font-family", "sans-serif"),
            );
        }
        top = bottom + gap;
    }
    let mut text = document.to_string();
    text.push('\n');
    text
}

fn polygon(path: &Path, at: &impl Fn(Point) -> Point) -> String {
    let points: Vec<String> = path
        .flattened(CHORD_ERROR)
        .into_iter()
        .map(at)
        .map(|p| format!("{} {}", decimal(p.x, 2), decimal(p.y, 2)))
        .collect();
    format!("M{}Z", points.join("L"))
}
