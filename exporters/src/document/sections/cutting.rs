//! Cutting: the list of parts, and each sheet and board with its cuts.

use jigless_model::plan::{CutBy, Part};

use crate::cutting::{CutEntry, Laid, is_for_saw, laid, reading};
use crate::document::context::Context;
use crate::document::model::{
    Block, Column, CutLine, Cuts, Figure, Image, Row, Section, Table, plain,
};
use crate::document::pictures::TEXT_WIDTH;
use jigless_words::said;

/// A layout is no higher on paper, in millimetres.
const HIGHEST: f64 = 176.0;

/// The section.
pub(super) fn section(context: &Context) -> Section {
    let words = context.words;
    let heading = |id: &str, title: &str| Block::Heading(id.to_owned(), title.to_owned());
    let mut blocks = vec![
        heading("cut-list", words.cut_list),
        Block::Paragraph(plain(words.cut_list_say)),
        Block::Table(cut_list(context)),
    ];
    for stock in context.stocks() {
        let template = match stock.cut_by {
            Some(CutBy::Router) => words.by_router,
            Some(CutBy::Laser) => words.by_laser,
            Some(CutBy::Saw) | None => continue,
        };
        blocks.push(Block::Paragraph(plain(said(template, &[&stock.label]))));
    }
    if is_for_saw(context.input.plan) {
        let (input, saw) = (&context.input, &context.options.saw);
        let room = (TEXT_WIDTH, HIGHEST);
        let mut layouts = laid(input, context.lengths, saw, context.options.inks, room);
        // As everywhere else, in the order in which the plan has its stock.
        layouts.sort_by_key(|laid| context.stocks().position(|stock| stock.label == laid.stock));
        if !layouts.is_empty() {
            blocks.push(heading("reading", words.how_to_read));
            let lines = reading(input, context.lengths, saw);
            blocks.push(Block::List(lines.into_iter().map(plain).collect()));
            let numbered = layouts.into_iter().enumerate();
            blocks.extend(numbered.map(|(index, laid)| Block::Cuts(cuts(context, index, laid))));
        }
    }
    Section {
        id: "cutting",
        title: words.cutting,
        on_new_page: true,
        blocks,
    }
}

fn cut_list(context: &Context) -> Table {
    let words = context.words;
    let row = |part: &&Part| {
        Row::of([
            context.mark(part).to_owned(),
            part.count.to_string(),
            part.title.clone(),
            context.size(part.width, part.height),
            part.stock.label.clone(),
        ])
        .about(&part.id)
        .ticked()
    };
    Table {
        name: words.cut_list.to_owned(),
        columns: vec![
            Column::words(words.mark),
            Column::numbers(words.count),
            Column::words(words.part),
            Column::words(words.size),
            Column::words(words.material),
        ],
        rows: context.parts_by_mark().iter().map(row).collect(),
    }
}

fn cuts(context: &Context, index: usize, laid: Laid) -> Cuts {
    let words = context.words;
    let (first, last, of) = laid.numbers;
    let [first, last, of] = [first, last, of].map(|number| number.to_string());
    let title = if laid.boards {
        said(words.boards_title, &[&laid.stock, &first, &last, &of])
    } else {
        said(words.sheet_title, &[&laid.stock, &first, &of])
    };
    let mut caption = said(
        words.layout_scale,
        &[&laid.about, &context.one_to(laid.scale)],
    );
    if let Some(unplaced) = laid.unplaced {
        caption.push(' ');
        caption.push_str(&unplaced);
    }
    let line = |words: CutEntry| match words {
        CutEntry::Note(words) => CutLine::Note(words),
        CutEntry::Setting(words) => CutLine::Setting(words),
        CutEntry::Numbered(number, words) => CutLine::Cut(number, words),
    };
    let lead = CutLine::Note(words.write_marks.to_owned());
    Cuts {
        anchor: format!("layout-{}", index + 1),
        figure: Figure {
            image: Image::Drawn(laid.items, laid.canvas),
            alternative: said(words.layout_of, &[&title]),
            caption,
            part: None,
        },
        title,
        key: laid.key,
        lines: std::iter::once(lead)
            .chain(laid.cuts.into_iter().map(line))
            .collect(),
    }
}
