//! Blocks of the document as slabs.

use jigless_model::geom::Point;

use super::cuts::cuts;
use super::setter::Setter;
use super::sheet::{BODY, READING, SECTION, SMALL, WIDTH};
use super::slab::{Slab, rule, tick, unread};
use super::step::step;
use super::table::table;
use super::typeset::{Run, natural};
use crate::document::{Block, Check, Inline, Section};
use crate::drawing::{BookFace, Ink};
use crate::pdf::book_page::Node;

/// A list of so many entries stays with the picture over it.
const FEW: usize = 12;

/// A section with its title.
pub(super) fn section(setter: &Setter, section: &Section) -> Vec<Slab> {
    let place = vec![setter.numbers.node("Sect")];
    let title = setter.numbers.inside(&place, "H2");
    let mut head = setter.words(&title, section.title, BookFace::Bold, SECTION, WIDTH);
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
    for (index, one) in section.blocks.iter().enumerate() {
        let mut own = block(setter, &place, one);
        let stays = stays(one, section.blocks.get(index + 1));
        if let (true, Some(last)) = (stays, own.last_mut()) {
            last.with_next = true;
        }
        // A few words under a picture stay with it.
        let before = index.checked_sub(1).map(|index| &section.blocks[index]);
        if matches!((before, one), (Some(Block::Figure(_)), Block::List(_))) && own.len() <= FEW {
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
pub(super) fn block(setter: &Setter, place: &[Node], block: &Block) -> Vec<Slab> {
    match block {
        Block::Heading(anchor, words) => vec![setter.heading(place, anchor, words)],
        Block::Paragraph(inline) => {
            let inside = setter.numbers.inside(place, "P");
            let runs = setter.runs(inline, BookFace::Regular);
            let mut slab = setter.set(&inside, &runs, BODY, READING);
            slab.above = 2.4;
            vec![slab]
        }
        Block::List(entries) => list(setter, place, entries),
        Block::Table(of) => table(setter, place, of),
        Block::Figure(figure) => {
            let mut slab = setter.figure(place, figure, (WIDTH, setter.height * 0.8));
            slab.above = 4.0;
            vec![slab]
        }
        Block::Step(of) => step(setter, place, of),
        Block::Facts(of) => facts(setter, place, of),
        Block::Checks(checks) => checks.iter().map(|one| check(setter, place, one)).collect(),
        Block::Caution(sentences) => {
            let mut slab = setter.caution(place, sentences, BODY);
            slab.above = 3.0;
            vec![slab]
        }
        Block::Cuts(of) => cuts(setter, place, of),
    }
}

fn list(setter: &Setter, place: &[Node], entries: &[Vec<Inline>]) -> Vec<Slab> {
    const INDENT: f64 = 4.5;
    let list = setter.numbers.inside(place, "L");
    let entry = |(index, entry): (usize, &Vec<Inline>)| {
        let item = setter.numbers.inside(&list, "LI");
        let dot = setter.numbers.inside(&item, "Lbl");
        let body = setter.numbers.inside(&item, "LBody");
        let mut slab = setter.words(&dot, "•", BookFace::Regular, BODY, INDENT);
        let runs = setter.runs(entry, BookFace::Regular);
        let words = setter.set(&body, &runs, BODY, READING - INDENT);
        slab.height = words.height;
        slab.inks.extend(words.indented(INDENT).inks);
        slab.above = if index == 0 { 2.4 } else { 1.2 };
        slab
    };
    entries.iter().enumerate().map(entry).collect()
}

/// Names with what is known, each in a line of two columns.
fn facts(setter: &Setter, place: &[Node], facts: &[(String, String)]) -> Vec<Slab> {
    const NAMES: f64 = 38.0;
    let list = setter.numbers.inside(place, "L");
    let fact = |(name, known): &(String, String)| {
        let item = setter.numbers.inside(&list, "LI");
        let label = setter.numbers.inside(&item, "Lbl");
        let body = setter.numbers.inside(&item, "LBody");
        let mut slab = setter.words(&label, name, BookFace::Bold, BODY, NAMES - 3.0);
        let words = setter.words(&body, known, BookFace::Regular, BODY, WIDTH - NAMES);
        slab.height = slab.height.max(words.height);
        slab.inks.extend(words.indented(NAMES).inks);
        slab.above = 1.6;
        slab
    };
    facts.iter().map(fact).collect()
}

fn check(setter: &Setter, place: &[Node], check: &Check) -> Slab {
    const INDENT: f64 = 6.0;
    let item = setter.numbers.inside(place, "P");
    let title = setter.words(&item, &check.words, BookFace::Bold, BODY, WIDTH - INDENT);
    let mut all = vec![title.indented(INDENT)];
    all[0].inks.push(unread(vec![tick(0.0, BODY)]));
    for (words, blank) in &check.below {
        let item = setter.numbers.inside(place, "P");
        let runs = [Run::new(words, BookFace::Regular)];
        let size = if *blank { BODY } else { SMALL };
        let mut line = setter.set(&item, &runs, size, WIDTH - INDENT);
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
