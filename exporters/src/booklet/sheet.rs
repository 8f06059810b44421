//! The page: its margins, its sizes of type, and what stands at its foot.

use jigless_model::caution::DEFER_SHORT;
use jigless_model::geom::{Bounds, Point};

use super::slab::text;
use crate::document::{Document, said};
use crate::drawing::{BookFace, Ink, Item, Pen, Role};
use crate::pdf::PageFormat;
use crate::pdf::book_page::BookInk;

/// Size of running text, in millimetres: 9.5 pt.
pub(super) const BODY: f64 = 3.35;
/// Size of small text, in millimetres: 8 pt.
pub(super) const SMALL: f64 = 2.83;
/// Size of the least text, in millimetres: 7 pt.
pub(super) const LEAST: f64 = 2.48;
/// Size of a heading within a section, in millimetres: 12 pt.
pub(super) const HEADING: f64 = 4.23;
/// Size of the title of a section, in millimetres: 18 pt.
pub(super) const SECTION: f64 = 6.35;
/// Size of the title of the whole, in millimetres: 30 pt.
pub(super) const TITLE: f64 = 10.58;
/// From one line to the next, in sizes.
pub(super) const LEADING: f64 = 1.38;

/// Width of the text, in millimetres.
pub(super) const WIDTH: f64 = crate::document::TEXT_WIDTH;
/// Width of lines that are read one after the other; what is beside them is left to write on.
pub(super) const READING: f64 = 140.0;
/// Above and below the text, in millimetres.
const MARGINS: (f64, f64) = (20.0, 24.0);

/// A page of some size.
pub(super) fn format(size: (f64, f64)) -> PageFormat {
    PageFormat {
        size,
        scale: (1.0, 1.0),
        blank: (0.0, 0.0),
    }
}

/// The box of the text on a page of some size.
pub(super) fn text_area(size: (f64, f64)) -> Bounds {
    let side = (size.0 - WIDTH) / 2.0;
    Bounds::new(
        Point::new(side, MARGINS.1),
        Point::new(size.0 - side, size.1 - MARGINS.0),
    )
}

/// What stands at the foot of a page: plan, revision, page, and the line that defers to others.
pub(super) fn foot(document: &Document, size: (f64, f64), page: usize, of: usize) -> BookInk {
    let area = text_area(size);
    let words = document.words;
    let digest = document.digest.get(..8).unwrap_or(&document.digest);
    let revision = document.revision.as_ref();
    let about = [
        Some(document.title.clone()),
        revision.map(|revision| said(words.revision_of, &[revision])),
        Some(said(words.plan_of, &[digest])),
    ];
    let about = about.into_iter().flatten().collect::<Vec<_>>().join(" · ");
    let number = said(words.page_of, &[&page.to_string(), &of.to_string()]);
    let room = BookFace::Regular.width(&number) * SMALL;
    let grey = Ink(70, 70, 70);
    let at = |up: f64| Point::new(area.min.x, area.min.y - up);
    let rule = Pen::new(0.15, grey);
    let line = Item::line(
        Role::Frame,
        at(4.0),
        Point::new(area.max.x, area.min.y - 4.0),
        rule,
    );
    let end = Point::new(area.max.x - room, area.min.y - 8.2);
    let mut items = vec![line];
    let about = text(at(8.2), SMALL, BookFace::Regular, &about, grey).fitted(WIDTH - room - 5.0);
    let number = text(end, SMALL, BookFace::Regular, &number, grey);
    let defer = text(at(12.0), LEAST, BookFace::Regular, DEFER_SHORT, grey).fitted(WIDTH);
    items.extend([about, number, defer].map(|line| Item::text(Role::Frame, line)));
    BookInk {
        place: Vec::new(),
        items,
        offset: Point::default(),
        link: None,
        alternative: None,
    }
}
