//! All pages of a booklet.

use std::collections::BTreeMap;

use super::blocks::Setter;
use super::flow::{Flowed, flow};
use super::front::{contents, cover};
use super::sheet::{foot, format, text_area};
use super::slab::{Numbers, Slab};
use crate::document::Document;
use crate::pdf::book_page::{BookPage, Bookmark, Landing};

/// A booklet before it is written.
pub(super) struct Booklet {
    pub(super) pages: Vec<BookPage>,
    pub(super) bookmarks: Vec<Bookmark>,
    pub(super) anchors: BTreeMap<String, Landing>,
}

/// The document on pages of some size.
pub(super) fn booklet(document: &Document, size: (f64, f64)) -> Booklet {
    // Numbers of pages stand in the contents, which take as much room whatever they are: the second time they are right.
    let first = set(document, size, &BTreeMap::new());
    let pages = first.anchors.iter();
    let pages = pages.map(|(anchor, landing)| (anchor.clone(), landing.page + 1));
    let flowed = set(document, size, &pages.collect());
    let of = flowed.pages.len();
    let pages = flowed.pages.into_iter().enumerate();
    let pages = pages.map(|(index, mut inks)| {
        inks.push(foot(document, size, index + 1, of));
        BookPage {
            format: format(size),
            inks,
        }
    });
    Booklet {
        pages: pages.collect(),
        bookmarks: flowed.bookmarks,
        anchors: flowed.anchors,
    }
}

fn set(document: &Document, size: (f64, f64), pages: &BTreeMap<String, usize>) -> Flowed {
    let area = text_area(size);
    let numbers = Numbers::default();
    let setter = Setter {
        document,
        numbers: &numbers,
        pages,
        height: area.height(),
    };
    let mut slabs: Vec<Slab> = cover(&setter);
    slabs.extend(contents(&setter, &document.sections));
    for section in &document.sections {
        slabs.extend(setter.section(section));
    }
    flow(&slabs, area)
}
