//! A sheet or some boards with their cuts: the layout, what marks stand for, and the cuts in words.

use std::rc::Rc;

use super::setter::Setter;
use super::sheet::{BODY, READING, SMALL, WIDTH};
use super::slab::{Slab, tick, unread};
use super::typeset::Run;
use crate::document::{CutLine, Cuts};
use crate::drawing::BookFace;
use crate::pdf::book_page::Node;

/// Columns of the key.
const COLUMNS: usize = 3;

/// The slabs of a sheet.
pub(super) fn cuts(setter: &Setter, place: &[Node], cuts: &Cuts) -> Vec<Slab> {
    let mut title = setter.heading(place, &cuts.anchor, &cuts.title);
    title.new_page = true;
    let mut figure = setter.figure(place, &cuts.figure, (WIDTH, setter.height * 0.78));
    figure.above = 2.5;
    let mut slabs = vec![title, figure];
    slabs.extend(key(setter, place, &cuts.key));
    let list = setter.numbers.inside(place, "L");
    let mut repeated: Option<Rc<Slab>> = None;
    for line in &cuts.lines {
        let item = setter.numbers.inside(&list, "LI");
        let body = setter.numbers.inside(&item, "LBody");
        match line {
            CutLine::Note(words) => {
                let mut slab = setter.words(&body, words, BookFace::Regular, BODY, READING);
                slab.above = 2.4;
                slabs.push(slab);
            }
            CutLine::Setting(words) => {
                let mut slab = setter.words(&body, words, BookFace::Bold, BODY, READING);
                slab.above = 3.2;
                slab.with_next = true;
                repeated = Some(Rc::new(slab.clone()));
                slabs.push(slab);
            }
            CutLine::Cut(number, words) => {
                let label = setter.numbers.inside(&item, "Lbl");
                let mut slab = setter
                    .words(&label, number, BookFace::Bold, BODY, 10.0)
                    .indented(6.0);
                let words = setter
                    .words(&body, words, BookFace::Regular, BODY, READING - 15.0)
                    .indented(15.0);
                slab.height = words.height;
                slab.inks.extend(words.inks);
                slab.inks.push(unread(vec![tick(0.0, BODY)]));
                slab.above = 1.2;
                slab.head.clone_from(&repeated);
                slabs.push(slab);
            }
        }
    }
    slabs
}

/// What marks stand for, in columns, read downward.
fn key(setter: &Setter, place: &[Node], key: &[(String, String)]) -> Option<Slab> {
    if key.is_empty() {
        return None;
    }
    let width = WIDTH / COLUMNS as f64;
    let rows = key.len().div_ceil(COLUMNS);
    let list = setter.numbers.inside(place, "L");
    let mut whole = Slab {
        above: 3.0,
        ..Slab::default()
    };
    for (index, column) in key.chunks(rows).enumerate() {
        let entries = column.iter().map(|(mark, words)| {
            let item = setter.numbers.inside(&list, "LI");
            let runs = [
                Run::new(&format!("{mark} "), BookFace::Bold),
                Run::new(words, BookFace::Regular),
            ];
            setter.set(&item, &runs, SMALL, width - 4.0)
        });
        let column = Slab::stacked(entries.collect()).indented(width * index as f64);
        whole.height = whole.height.max(column.height);
        whole.inks.extend(column.inks);
    }
    Some(whole)
}
