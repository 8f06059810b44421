//! Blocks of the document as slabs.

use std::collections::BTreeMap;

use jigless_model::geom::{Bounds, Point, rectangle};

use super::cuts::cuts;
use super::sheet::{BODY, HEADING, LEAST, READING, SECTION, SMALL, WIDTH};
use super::slab::{Numbers, Setting, Slab, rule, set, tick, unread};
use super::step::step;
use super::table::table;
use super::typeset::{Run, lines, natural};
use crate::document::{Block, Check, Document, Figure, Image, Inline, Section};
use crate::drawing::{BookFace, Ink, Item, Role};
use crate::pdf::book_page::{BookInk, Node, Target};

/// A list of so many entries stays with the picture over it.
const FEW: usize = 12;

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

    /// A section with its title.
    pub(super) fn section(&self, section: &Section) -> Vec<Slab> {
        let place = vec![self.numbers.node("Sect")];
        let title = self.numbers.inside(&place, "H2");
        let mut head = self.words(&title, section.title, BookFace::Bold, SECTION, WIDTH);
        head.inks.push(unread(vec![rule(
            Point::new(0.0, -head.height - 0.6),
            WIDTH,
            0.5,
            Ink::BLACK,
        )]));
        head.height += 2.0;
        head.above = 12.0;
        head.with_next = true;
        head.new_page = section.on_new_page;
        head.anchors.push(section.id.to_owned());
        head.bookmark = Some((section.title.to_owned(), false));
        let mut slabs = vec![head];
        for (index, block) in section.blocks.iter().enumerate() {
            let mut own = self.block(&place, block);
            let stays = stays(block, section.blocks.get(index + 1));
            if let (true, Some(last)) = (stays, own.last_mut()) {
                last.with_next = true;
            }
            // A few words under a picture stay with it.
            let before = index.checked_sub(1).map(|index| &section.blocks[index]);
            if matches!((before, block), (Some(Block::Figure(_)), Block::List(_)))
                && own.len() <= FEW
            {
                let all_but_last = own.len() - 1;
                for slab in &mut own[..all_but_last] {
                    slab.with_next = true;
                }
            }
            slabs.extend(own);
        }
        slabs
    }

    /// A block as slabs.
    pub(super) fn block(&self, place: &[Node], block: &Block) -> Vec<Slab> {
        match block {
            Block::Heading(anchor, words) => vec![self.heading(place, anchor, words)],
            Block::Paragraph(inline) => {
                let inside = self.numbers.inside(place, "P");
                let runs = self.runs(inline, BookFace::Regular);
                let mut slab = self.set(&inside, &runs, BODY, READING);
                slab.above = 2.4;
                vec![slab]
            }
            Block::List(entries) => self.list(place, entries),
            Block::Table(of) => table(self, place, of),
            Block::Figure(figure) => {
                let mut slab = self.figure(place, figure, (WIDTH, self.height * 0.8));
                slab.above = 4.0;
                vec![slab]
            }
            Block::Step(of) => step(self, place, of),
            Block::Facts(facts) => self.facts(place, facts),
            Block::Checks(checks) => checks.iter().map(|one| self.check(place, one)).collect(),
            Block::Caution(sentences) => {
                let mut slab = self.caution(place, sentences, BODY);
                slab.above = 3.0;
                vec![slab]
            }
            Block::Cuts(of) => cuts(self, place, of),
        }
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

    fn list(&self, place: &[Node], entries: &[Vec<Inline>]) -> Vec<Slab> {
        const INDENT: f64 = 4.5;
        let list = self.numbers.inside(place, "L");
        let entry = |(index, entry): (usize, &Vec<Inline>)| {
            let item = self.numbers.inside(&list, "LI");
            let dot = self.numbers.inside(&item, "Lbl");
            let body = self.numbers.inside(&item, "LBody");
            let mut slab = self.words(&dot, "•", BookFace::Regular, BODY, INDENT);
            let runs = self.runs(entry, BookFace::Regular);
            let words = self.set(&body, &runs, BODY, READING - INDENT);
            slab.height = words.height;
            slab.inks.extend(words.indented(INDENT).inks);
            slab.above = if index == 0 { 2.4 } else { 1.2 };
            slab
        };
        entries.iter().enumerate().map(entry).collect()
    }

    /// Names with what is known, each in a line of two columns.
    pub(super) fn facts(&self, place: &[Node], facts: &[(String, String)]) -> Vec<Slab> {
        const NAMES: f64 = 38.0;
        let list = self.numbers.inside(place, "L");
        let fact = |(name, known): &(String, String)| {
            let item = self.numbers.inside(&list, "LI");
            let label = self.numbers.inside(&item, "Lbl");
            let body = self.numbers.inside(&item, "LBody");
            let mut slab = self.words(&label, name, BookFace::Bold, BODY, NAMES - 3.0);
            let words = self.words(&body, known, BookFace::Regular, BODY, WIDTH - NAMES);
            slab.height = slab.height.max(words.height);
            slab.inks.extend(words.indented(NAMES).inks);
            slab.above = 1.6;
            slab
        };
        facts.iter().map(fact).collect()
    }

    /// A picture in the middle of a room, with its words under it; it is made smaller where it must be, and never larger.
    pub(super) fn figure(&self, place: &[Node], figure: &Figure, room: (f64, f64)) -> Slab {
        let inside = self.numbers.inside(place, "Figure");
        let (items, size) = match &figure.image {
            Image::Drawn(_, canvas) if self.draft == Draft::Yes => fitted(&[], *canvas, room),
            Image::Drawn(items, canvas) => fitted(items, *canvas, room),
        };
        let left = Point::new((room.0 - size.x) / 2.0, -size.y);
        let ink = BookInk {
            place: inside,
            items,
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

    fn check(&self, place: &[Node], check: &Check) -> Slab {
        const INDENT: f64 = 6.0;
        let item = self.numbers.inside(place, "P");
        let title = self.words(&item, &check.words, BookFace::Bold, BODY, WIDTH - INDENT);
        let mut all = vec![title.indented(INDENT)];
        all[0].inks.push(unread(vec![tick(0.0, BODY)]));
        for (words, blank) in &check.below {
            let item = self.numbers.inside(place, "P");
            let runs = [Run::new(words, BookFace::Regular)];
            let size = if *blank { BODY } else { SMALL };
            let mut line = self.set(&item, &runs, size, WIDTH - INDENT);
            line.above = if *blank { 1.8 } else { 1.0 };
            let end = natural(&runs, size) + 2.0;
            if *blank && end < WIDTH - INDENT - 34.0 {
                let from = Point::new(end, -size * 1.2);
                line.inks
                    .push(unread(vec![rule(from, 34.0, 0.15, Ink::BLACK)]));
            }
            all.push(line.indented(INDENT));
        }
        let mut slab = Slab::stacked(all);
        slab.above = 4.5;
        slab
    }

    /// Sentences beside a bar.
    pub(super) fn caution(&self, place: &[Node], sentences: &[String], size: f64) -> Slab {
        const INDENT: f64 = 4.0;
        let mut all = Vec::new();
        let title = self.numbers.inside(place, "P");
        let words = self.document.words.caution;
        all.push(self.words(&title, words, BookFace::Bold, size.max(LEAST), WIDTH));
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

/// Whether a block stays with the one after it: what is said of a picture or table, and a picture with the list under it.
fn stays(block: &Block, next: Option<&Block>) -> bool {
    matches!(
        (block, next),
        (
            Block::Paragraph(_),
            Some(Block::Figure(_) | Block::Table(_) | Block::Checks(_))
        ) | (Block::Figure(_), Some(Block::List(_)))
    )
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
