//! What stands at the foot of a page.

use jigless_model::geom::Point;

use super::sheet::{LEAST, SMALL, WIDTH, text_area};
use super::slab::{text, unread};
use crate::document::Document;
use crate::drawing::{BookFace, Ink, Item, Pen, Role};
use crate::pdf::book_page::BookInk;
use jigless_words::said;

/// What stands at the foot of a page: plan, revision, page, and the line that defers to others.
pub(super) fn foot(document: &Document, size: (f64, f64), page: usize, of: usize) -> BookInk {
    let area = text_area(size);
    let words = &document.words.document;
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
    let defer = document.words.cautions.defer_short;
    let defer = text(at(12.0), LEAST, BookFace::Regular, defer, grey).fitted(WIDTH);
    items.extend([about, number, defer].map(|line| Item::text(Role::Frame, line)));
    unread(items)
}
