//! All pages of a booklet.

use std::collections::BTreeMap;

use jigless_model::geom::Bounds;

use super::blocks::section;
use super::flow::{Flowed, flow};
use super::foot::foot;
use super::front::{contents, cover};
use super::setter::{Draft, Setter};
use super::sheet::{format, text_area};
use super::slab::{Numbers, Slab};
use crate::document::Document;
use crate::pdf::book_page::{BookPage, Bookmark, Landing};

/// Pages are set anew so often at most.
const MOST_TIMES: usize = 5;

/// A booklet before it is written.
pub(super) struct Booklet {
    pub(super) pages: Vec<BookPage>,
    pub(super) bookmarks: Vec<Bookmark>,
    pub(super) anchors: BTreeMap<String, Landing>,
}

/// The document on pages of some size.
pub(super) fn booklet(document: &Document, size: (f64, f64)) -> Booklet {
    // Numbers of pages stand on pages: they are set anew until the numbers are right, which they are the second time but
    // for words that break otherwise with them.
    let mut known = BTreeMap::new();
    for _ in 0..MOST_TIMES {
        let anchors = set(document, size, &known, Draft::Yes).anchors;
        let found: BTreeMap<String, usize> = anchors
            .into_iter()
            .map(|(anchor, landing)| (anchor, landing.page + 1))
            .collect();
        if found == known {
            break;
        }
        known = found;
    }
    let flowed = set(document, size, &known, Draft::No);
    let of = flowed.pages.len();
    let pages = flowed.pages.into_iter().enumerate();
    let pages = pages.map(|(index, mut inks)| {
        inks.push(foot(document, size, index + 1, of));
        for ink in &mut inks {
            let by = std::mem::take(&mut ink.offset);
            for item in &mut ink.items {
                *item = item.moved(by);
            }
            if let Some((_, bounds)) = &mut ink.photograph {
                *bounds = Bounds::new(bounds.min + by, bounds.max + by);
            }
        }
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

fn set(
    document: &Document,
    size: (f64, f64),
    pages: &BTreeMap<String, usize>,
    draft: Draft,
) -> Flowed {
    let area = text_area(size);
    let numbers = Numbers::default();
    let setter = Setter {
        document,
        numbers: &numbers,
        pages,
        draft,
        height: area.height(),
    };
    let mut slabs: Vec<Slab> = cover(&setter);
    slabs.extend(contents(&setter, &document.sections));
    for one in &document.sections {
        slabs.extend(section(&setter, one));
    }
    flow(slabs, area)
}
