//! The title block: the fields of ISO 7200 (from memory), with the scale and the sign of the projection beside them.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Path, Point, circle};

use super::options::PdfDrawingsOptions;
use crate::drawing::{Anchor, Ink, Item, Pen, Role, TextLine};

/// Height of the block, in millimetres.
pub(super) const HEIGHT: f64 = 27.0;
/// Sizes of the names of fields and of what stands in them, in millimetres.
const NAME: f64 = 1.9;
const WORDS: f64 = 3.0;
const THIN: Pen = Pen::new(0.18, Ink::BLACK);
const THICK: Pen = Pen::new(0.5, Ink::BLACK);

/// How the views lie to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ProjectionAngle {
    /// What is seen from the left is drawn on the right (ISO 128).
    First,
    /// What is seen from the right is drawn on the right (ISO 128; usual with inches).
    Third,
}

/// What a sheet says of itself.
pub(super) struct SheetWords<'a> {
    /// What it shows.
    pub(super) shows: &'a str,
    /// The scale in words: `1:10`.
    pub(super) scale: &'a str,
    /// Number of the sheet, from 1, and how many there are.
    pub(super) sheet: (usize, usize),
    /// The unit of the dimensions in words.
    pub(super) units: &'a str,
}

/// The block at the lower edge of the frame.
pub(super) fn block(
    input: &ExportInput,
    options: &PdfDrawingsOptions,
    frame: Bounds,
    angle: ProjectionAngle,
    words: &SheetWords,
) -> Vec<Item> {
    let plan = input.plan;
    let width = frame.width().min(190.0);
    let low = Point::new(frame.max.x - width, frame.min.y);
    let date = input
        .stamp
        .date
        .and_then(|seconds| chrono::DateTime::from_timestamp(seconds, 0));
    let date = date
        .map(|date| date.format("%Y-%m-%d").to_string())
        .unwrap_or_default();
    let sheet = format!("{} of {}", words.sheet.0, words.sheet.1);
    let number = plan.digest.get(..12).unwrap_or_default();
    let scale = format!("{} ({})", words.scale, words.units);
    // Rows from below, each field with its share of the width.
    let rows: [&[(&str, &str, f64)]; 3] = [
        &[
            ("Identification number", number, 0.26),
            ("Revision", plan.revision.as_deref().unwrap_or(""), 0.14),
            ("Date of issue", &date, 0.2),
            ("Scale", &scale, 0.26),
            ("Sheet", &sheet, 0.14),
        ],
        &[
            ("Legal owner", &options.owner, 0.26),
            ("Creator", &options.creator, 0.26),
            ("Approved by", &options.approver, 0.26),
            ("Licence", plan.licence.as_deref().unwrap_or(""), 0.22),
        ],
        &[
            ("Title", &plan.title, 0.5),
            ("Document type", words.shows, 0.36),
            ("Projection", "", 0.14),
        ],
    ];
    let step = HEIGHT / 3.0;
    let mut items = Vec::new();
    for (row, fields) in rows.into_iter().enumerate() {
        let bottom = low.y + step * row as f64;
        let mut left = low.x;
        for (name, value, share) in fields {
            let right = left + width * share;
            let cell = Bounds::new(Point::new(left, bottom), Point::new(right, bottom + step));
            items.push(Item::stroke(
                Role::Frame,
                jigless_model::geom::rectangle(cell),
                THIN,
            ));
            let at = Point::new(left + 1.0, cell.max.y - 2.3);
            items.push(Item::text(Role::Frame, TextLine::new(at, NAME, name)));
            let at = Point::new(left + 1.0, bottom + 1.9);
            let text = TextLine::new(at, WORDS, value).fitted(width * share - 2.0);
            if !value.is_empty() {
                items.push(Item::text(
                    Role::Frame,
                    if *name == "Title" {
                        text.bold().fitted(width * share - 2.0)
                    } else {
                        text
                    },
                ));
            }
            if *name == "Projection" {
                items.extend(sign(
                    Point::new(right - 9.0, bottom + step / 2.0 - 0.6),
                    angle,
                ));
            }
            left = right;
        }
    }
    let around = Bounds::new(low, low + Point::new(width, HEIGHT));
    items.push(Item::stroke(
        Role::Frame,
        jigless_model::geom::rectangle(around),
        THICK,
    ));
    items.push(Item::stroke(
        Role::Frame,
        jigless_model::geom::rectangle(frame),
        THICK,
    ));
    items
}

/// The sign of the projection (ISO 128): a truncated cone from the side and from an end.
fn sign(at: Point, angle: ProjectionAngle) -> Vec<Item> {
    let (circles, cone) = match angle {
        ProjectionAngle::First => (at + Point::new(4.0, 0.0), at - Point::new(4.0, 0.0)),
        ProjectionAngle::Third => (at - Point::new(4.0, 0.0), at + Point::new(4.0, 0.0)),
    };
    // The narrow end of the cone points away from the circles in first angle, toward them in third.
    let sides = [(-2.5, 1.1), (2.5, 2.2), (2.5, -2.2), (-2.5, -1.1)];
    let cone = Path::of_points(sides.map(|(x, y)| cone + Point::new(x, y)), true);
    vec![
        Item::stroke(Role::Frame, cone, THIN),
        Item::stroke(Role::Frame, circle(circles, 2.2), THIN),
        Item::stroke(Role::Frame, circle(circles, 1.1), THIN),
    ]
}

/// A caption under a view.
pub(super) fn caption(at: Point, words: &str) -> Item {
    Item::text(
        Role::Note,
        TextLine::new(at, 3.2, words).anchored(Anchor::Middle),
    )
}
