//! What everything is set with: runs, lines, headings, pictures, cautions.

use std::collections::BTreeMap;
use std::sync::Arc;

use jigless_model::geom::{Bounds, Point, rectangle};
use jigless_model::photograph::Picture;

use super::sheet::{HEADING, READING, SMALL, WIDTH};
use super::slab::{Numbers, Setting, Slab, set, unread};
use super::typeset::{Run, lines};
use crate::document::{Document, Figure, Image, Inline};
use crate::drawing::{BookFace, Ink, Item, Role};
use crate::pdf::book_page::{BookInk, Node, Target};

/// Whether it is only about where things come to lie, for which pictures need not be drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Draft {
    /// Pictures are left out.
    Yes,
    /// Pictures are drawn.
    No,
}

/// What blocks are set with.
pub(super) struct Setter<'a> {
    pub(super) document: &'a Document,
    pub(super) numbers: &'a Numbers,
    /// On which page each anchor is, from 1, as far as it is known.
    pub(super) pages: &'a BTreeMap<String, usize>,
    /// Whether pictures are left out.
    pub(super) draft: Draft,
    /// Height of the text on a page, in millimetres.
    pub(super) height: f64,
}

impl Setter<'_> {
    /// Words as runs of a cut.
    pub(super) fn runs(&self, inline: &[Inline], face: BookFace) -> Vec<Run> {
        let run = |inline: &Inline| {
            let words = inline.words();
            match inline {
                Inline::Text(_) => Run::new(words, face),
                Inline::Strong(_) => Run::new(words, BookFace::Bold),
                Inline::Emphasis(_) => Run::new(words, BookFace::Oblique),
                Inline::Anchor(_, anchor) => {
                    Run::new(words, face).to(Target::Anchor(anchor.clone()))
                }
                Inline::Page(anchor) => {
                    let page = self.pages.get(anchor).copied().unwrap_or(0);
                    Run::new(&page.to_string(), face).to(Target::Anchor(anchor.clone()))
                }
                Inline::Link(_, to) => Run::new(words, face).to(Target::Web(to.clone())),
            }
        };
        inline.iter().map(run).collect()
    }

    /// Runs as lines of a width under some elements.
    pub(super) fn set(&self, place: &[Node], runs: &[Run], size: f64, width: f64) -> Slab {
        let lines = lines(runs, size, width, self.document.words.tag);
        set(self.numbers, place, runs, &lines, Setting::black(size))
    }

    /// Words of one cut.
    pub(super) fn words(
        &self,
        place: &[Node],
        words: &str,
        face: BookFace,
        size: f64,
        width: f64,
    ) -> Slab {
        self.set(place, &[Run::new(words, face)], size, width)
    }

    /// A heading that stays with what follows.
    pub(super) fn heading(&self, place: &[Node], anchor: &str, words: &str) -> Slab {
        let inside = self.numbers.inside(place, "H3");
        let mut slab = self.words(&inside, words, BookFace::Bold, HEADING, WIDTH);
        slab.above = 7.0;
        slab.with_next = true;
        slab.anchors.push(anchor.to_owned());
        let below = anchor.starts_with("part-") || anchor.starts_with("layout-");
        slab.bookmark = below.then(|| (words.to_owned(), true));
        slab
    }

    /// A picture in the middle of a room, with its words under it; it is made smaller where it must be, and never larger.
    pub(super) fn figure(&self, place: &[Node], figure: &Figure, room: (f64, f64)) -> Slab {
        let inside = self.numbers.inside(place, "Figure");
        let (items, size) = match &figure.image {
            Image::Drawn(_, canvas) if self.draft == Draft::Yes => fitted(&[], *canvas, room),
            Image::Drawn(items, canvas) => fitted(items, *canvas, room),
            Image::Photograph(picture) => (Vec::new(), printed(picture, room)),
        };
        let photograph = match &figure.image {
            Image::Photograph(picture) => {
                let bounds = Bounds::new(Point::default(), size);
                Some((Arc::clone(picture), bounds))
            }
            Image::Drawn(..) => None,
        };
        let left = Point::new((room.0 - size.x) / 2.0, -size.y);
        let ink = BookInk {
            place: inside,
            items,
            photograph,
            offset: left,
            link: None,
            alternative: Some(figure.alternative.clone()),
        };
        let mut slab = Slab {
            height: size.y,
            inks: vec![ink],
            ..Slab::default()
        };
        if !figure.caption.is_empty() {
            let inside = self.numbers.inside(place, "P");
            let mut caption =
                self.words(&inside, &figure.caption, BookFace::Oblique, SMALL, room.0);
            caption.above = 1.5;
            slab = Slab::stacked(vec![slab, caption]);
        }
        slab
    }

    /// Sentences beside a bar.
    pub(super) fn caution(&self, place: &[Node], sentences: &[String], size: f64) -> Slab {
        const INDENT: f64 = 4.0;
        let mut all = Vec::new();
        let title = self.numbers.inside(place, "P");
        let words = self.document.words.document.caution;
        all.push(self.words(&title, words, BookFace::Bold, size, WIDTH));
        for sentence in sentences {
            let inside = self.numbers.inside(place, "P");
            let mut slab = self.words(&inside, sentence, BookFace::Regular, size, READING - INDENT);
            slab.above = 0.25 * size;
            all.push(slab);
        }
        let slab = Slab::stacked(all).indented(INDENT);
        let (pad, height) = (1.4, slab.height + 2.8);
        let tinted = Bounds::new(Point::new(0.0, -height), Point::new(WIDTH, 0.0));
        let bar = Bounds::new(Point::new(0.0, -height), Point::new(1.4, 0.0));
        let back = [(tinted, Ink(252, 240, 214)), (bar, Ink(178, 106, 0))];
        let back = back.map(|(bounds, ink)| Item::fill(Role::Area, rectangle(bounds), ink));
        let mut inks = vec![unread(back.into())];
        inks.extend(slab.moved(Point::new(0.0, -pad)));
        Slab {
            height,
            inks,
            ..Slab::default()
        }
    }
}

/// The size of a photograph on paper: not so large that its dots are seen.
fn printed(picture: &Picture, room: (f64, f64)) -> Point {
    // 100 dots to an inch (common practice, no source).
    const DOT: f64 = 0.254;
    /// Millimetres that a photograph is wide and high at most.
    const MOST: (f64, f64) = (130.0, 95.0);
    let size = Point::new(f64::from(picture.width), f64::from(picture.height));
    let [across, upward] = [room.0.min(MOST.0) / size.x, room.1.min(MOST.1) / size.y];
    size * across.min(upward).min(DOT)
}

/// A drawing whose lower left corner is 0,0, and its size: as it is, or smaller where there is less room.
fn fitted(items: &[Item], canvas: Bounds, room: (f64, f64)) -> (Vec<Item>, Point) {
    let least = (room.0 / canvas.width()).min(room.1 / canvas.height());
    let by = Point::default() - canvas.min;
    let size = Point::new(canvas.width(), canvas.height());
    let moved = items.iter().map(|item| item.moved(by));
    if least >= 1.0 {
        (moved.collect(), size)
    } else {
        (moved.map(|item| item.scaled(least)).collect(), size * least)
    }
}
