//! The cover and the contents.

use jigless_model::geom::Point;

use super::blocks::block;
use super::setter::Setter;
use super::sheet::{BODY, SECTION, TITLE, WIDTH};
use super::slab::{Slab, rule, unread};
use super::typeset::Run;
use crate::document::{Block, Section};
use crate::drawing::{BookFace, Ink};
use crate::pdf::book_page::Target;

/// Room for the title and what stands under the picture, in millimetres.
const BELOW: f64 = 90.0;

/// The cover.
pub(super) fn cover(setter: &Setter) -> Vec<Slab> {
    let document = setter.document;
    let place = [setter.numbers.node("Sect")];
    let title = setter.numbers.inside(&place, "H1");
    let mut slab = setter.words(&title, &document.title, BookFace::Bold, TITLE, WIDTH);
    slab.height += 4.0;
    let mut slabs = vec![slab];
    for one in &document.cover {
        match one {
            Block::Figure(figure) => {
                let mut slab = setter.figure(&place, figure, (WIDTH, setter.height - BELOW));
                slab.height += 6.0;
                slabs.push(slab);
            }
            other => slabs.extend(block(setter, &place, other)),
        }
    }
    slabs
}

/// The contents, with pages and links.
pub(super) fn contents(setter: &Setter, sections: &[Section]) -> Vec<Slab> {
    let place = [setter.numbers.node("Sect")];
    let title = setter.numbers.inside(&place, "H2");
    let words = setter.document.words.document.contents;
    let mut head = setter.words(&title, words, BookFace::Bold, SECTION, WIDTH);
    head.with_next = true;
    head.new_page = true;
    head.height += 1.0;
    let list = setter.numbers.inside(&place, "L");
    let entry = |section: &Section| {
        let item = setter.numbers.inside(&list, "LI");
        let link = Target::Anchor(section.id.to_owned());
        let runs = [Run::new(section.title, BookFace::Regular).to(link.clone())];
        let mut slab = setter.set(&item, &runs, BODY, WIDTH - 20.0);
        let page = setter.pages.get(section.id).copied().unwrap_or(0);
        let number = [Run::new(&page.to_string(), BookFace::Regular).to(link)];
        let room = super::typeset::natural(&number, BODY);
        let number = setter
            .set(&item, &number, BODY, 20.0)
            .indented(WIDTH - room);
        slab.inks.extend(number.inks);
        let from = Point::new(super::typeset::natural(&runs, BODY) + 2.0, -BODY * 1.1);
        let length = WIDTH - room - 2.0 - from.x;
        let light = Ink(150, 150, 150);
        slab.inks
            .push(unread(vec![rule(from, length, 0.13, light)]));
        slab.above = 1.8;
        slab
    };
    std::iter::once(head)
        .chain(sections.iter().map(entry))
        .collect()
}
