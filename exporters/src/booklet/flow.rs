//! Slabs over pages.

use std::collections::BTreeMap;

use jigless_model::geom::{Bounds, Point};

use super::slab::Slab;
use crate::pdf::book_page::{BookInk, Bookmark, Landing};

/// Slabs that have their places.
#[derive(Debug, Default)]
pub(super) struct Flowed {
    /// What is on each page.
    pub(super) pages: Vec<Vec<BookInk>>,
    /// Where the anchors are.
    pub(super) anchors: BTreeMap<String, Landing>,
    /// What readers list to jump to.
    pub(super) bookmarks: Vec<Bookmark>,
}

/// Puts slabs into as many boxes as it takes. What stays with the next one never ends a page.
pub(super) fn flow(slabs: &[Slab], area: Bounds) -> Flowed {
    let mut flow = Flow {
        area,
        y: area.max.y,
        flowed: Flowed::default(),
    };
    flow.flowed.pages.push(Vec::new());
    let mut index = 0;
    while index < slabs.len() {
        let more = slabs[index..]
            .iter()
            .take_while(|slab| slab.with_next)
            .count();
        let group = &slabs[index..slabs.len().min(index + more + 1)];
        flow.group(group);
        index += group.len();
    }
    flow.flowed
}

struct Flow {
    area: Bounds,
    /// Where the next slab begins.
    y: f64,
    flowed: Flowed,
}

impl Flow {
    fn at_top(&self) -> bool {
        self.y > self.area.max.y - 1e-9
    }

    /// Slabs that belong on one page.
    fn group(&mut self, group: &[Slab]) {
        let needed: f64 = group.iter().map(|slab| slab.above + slab.height).sum();
        let first = group.first();
        let new_page = first.is_some_and(|slab| slab.new_page);
        let fits = self.fits(needed) || needed > self.area.height();
        if !self.at_top() && (new_page || !fits) {
            self.turn(first);
        }
        for slab in group {
            if !self.at_top() && !self.fits(slab.above + slab.height) {
                self.turn(Some(slab));
            }
            self.place(slab);
        }
    }

    fn fits(&self, height: f64) -> bool {
        self.y - height >= self.area.min.y - 1e-9
    }

    /// Begins a page, with the head of what is to stand first on it.
    fn turn(&mut self, first: Option<&Slab>) {
        self.flowed.pages.push(Vec::new());
        self.y = self.area.max.y;
        if let Some(head) = first.and_then(|slab| slab.head.as_ref()) {
            let again = head.repeated();
            self.place(&again);
        }
    }

    fn place(&mut self, slab: &Slab) {
        if !self.at_top() {
            self.y -= slab.above;
        }
        let page = self.flowed.pages.len() - 1;
        let landing = Landing {
            page,
            up: self.y + 3.0,
        };
        for anchor in &slab.anchors {
            self.flowed.anchors.insert(anchor.clone(), landing.clone());
        }
        if let Some((title, below)) = &slab.bookmark {
            self.flowed.bookmarks.push(Bookmark {
                title: title.clone(),
                below: *below,
                to: landing,
            });
        }
        let moved = slab.moved(Point::new(self.area.min.x, self.y));
        self.flowed.pages[page].extend(moved);
        self.y -= slab.height;
    }
}
