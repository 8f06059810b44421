//! What is measured while it is made: parts as cut, and whether what is put together is square.

use jigless_model::plan::Part;
use jigless_steps::{Measured, Rectangle, SeenFrom, rectangles};

use crate::document::context::Context;
use crate::document::model::{Block, Check, Column, Row, Section, Table, plain};
use jigless_words::said;

/// The section.
pub(super) fn section(context: &Context) -> Section {
    let words = context.words;
    let heading = |id: &str, title: &str| Block::Heading(id.to_owned(), title.to_owned());
    let mut blocks = vec![heading("together", words.together)];
    let found = rectangles(
        context.input.plan,
        context.input.workpieces,
        context.language,
    );
    if found.is_empty() {
        blocks.push(Block::Paragraph(plain(words.nothing_square)));
    } else {
        blocks.push(Block::Paragraph(plain(words.together_say)));
        let checks = found.iter().map(|rectangle| check(context, rectangle));
        blocks.push(Block::Checks(checks.collect()));
    }
    blocks.push(heading("as-cut", words.as_cut));
    blocks.push(Block::Paragraph(plain(words.as_cut_say)));
    blocks.push(Block::Table(as_cut(context)));
    Section {
        id: "square",
        title: words.square,
        on_new_page: true,
        blocks,
    }
}

fn check(context: &Context, rectangle: &Rectangle) -> Check {
    let words = context.words;
    let measured = match rectangle.measured {
        Measured::Outside => words.outside,
        Measured::Inside => words.opening,
    };
    let measured = match &rectangle.group {
        Some(group) => format!("{group}, {measured}"),
        None => measured.to_owned(),
    };
    let around = rectangle.around.join(", ");
    let seen_from = rectangle.seen_from.in_words(context.language);
    let mut title = said(words.seen_from, &[&measured, seen_from, &around]);
    if rectangle.count > 1 {
        title.push_str(", ");
        title.push_str(&said(words.alike, &[&rectangle.count.to_string()]));
    }
    let upward = if rectangle.seen_from == SeenFrom::Above {
        words.depth_is
    } else {
        words.height_is
    };
    let full = |mm: f64| context.full(mm);
    Check {
        words: title,
        below: vec![
            (said(words.width_is, &[&full(rectangle.width)]), true),
            (said(upward, &[&full(rectangle.height)]), true),
            (
                said(
                    words.diagonals_are,
                    &[&full(rectangle.diagonal), &full(rectangle.most)],
                ),
                true,
            ),
            (said(words.because, &[&rectangle.because]), false),
        ],
    }
}

fn as_cut(context: &Context) -> Table {
    let words = context.words;
    let row = |part: &&Part| {
        Row::of([
            context.mark(part).to_owned(),
            part.title.clone(),
            context.size(part.width, part.height),
            String::new(),
        ])
        .about(&part.id)
        .ticked()
    };
    Table {
        name: words.as_cut.to_owned(),
        columns: vec![
            Column::words(words.mark),
            Column::words(words.part),
            Column::words(words.size),
            Column::words(words.measured),
        ],
        rows: context.parts_by_mark().iter().map(row).collect(),
    }
}
