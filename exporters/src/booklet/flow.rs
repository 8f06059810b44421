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
pub(super) fn flow(slabs: Vec<Slab>, area: Bounds) -> Flowed {
    let mut flow = Flow {
        area,
        y: area.max.y,
        flowed: Flowed::default(),
    };
    flow.flowed.pages.push(Vec::new());
    let mut group = Vec::new();
    for slab in slabs {
        let more = slab.with_next;
        group.push(slab);
        if !more {
            flow.group(std::mem::take(&mut group));
        }
    }
    flow.group(group);
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
    fn group(&mut self, group: Vec<Slab>) {
        let Some(first) = group.first() else { return };
        let needed: f64 = group.iter().map(|slab| slab.above + slab.height).sum();
        let fits = self.fits(needed) || needed > self.area.height();
        if !self.at_top() && (first.new_page || !fits) {
            self.turn(first.head.as_deref());
        }
        for slab in group {
            if !self.at_top() && !self.fits(slab.above + slab.height) {
                self.turn(slab.head.as_deref());
            }
            self.place(slab);
        }
    }

    fn fits(&self, height: f64) -> bool {
        self.y - height >= self.area.min.y - 1e-9
    }

    /// Begins a page, with the head of what is to stand first on it.
    fn turn(&mut self, head: Option<&Slab>) {
        self.flowed.pages.push(Vec::new());
        self.y = self.area.max.y;
        if let Some(head) = head {
            self.place(head.repeated());
        }
    }

    fn place(&mut self, slab: Slab) {
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
        if let Some((title, below)) = slab.bookmark.clone() {
            self.flowed.bookmarks.push(Bookmark {
                title,
                below,
                to: landing,
            });
        }
        let height = slab.height;
        let moved = slab.moved(Point::new(self.area.min.x, self.y));
        self.flowed.pages[page].extend(moved);
        self.y -= height;
    }
}
