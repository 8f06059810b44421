//! How sheets are measured and templates printed.

use crate::document::context::Context;
use crate::document::model::{Block, Column, Row, Section, Table, plain};
use jigless_words::said;

/// What a sheet may differ by from what the plan is drawn for, in millimetres (common practice, no source).
const TOLERATED: f64 = 0.1;

/// The section.
pub(super) fn section(context: &Context) -> Section {
    let words = context.words;
    let row = |stock: &jigless_model::plan::Stock| {
        Row::of([
            stock.label.clone(),
            context.thickness(stock.thickness),
            String::new(),
        ])
        .ticked()
    };
    let table = Table {
        name: words.true_size.to_owned(),
        columns: vec![
            Column::words(words.material),
            Column::numbers(words.thickness),
            Column::words(words.measured),
        ],
        rows: context.stocks().map(row).collect(),
    };
    let measure = [
        words.measure_say_1.to_owned(),
        said(words.measure_say_2, &[&context.thickness(TOLERATED)]),
    ];
    let mut blocks: Vec<Block> = measure.map(|said| Block::Paragraph(plain(said))).into();
    blocks.push(Block::Table(table));
    let heading = words.print_heading.to_owned();
    blocks.push(Block::Heading("print".to_owned(), heading));
    let print = [
        words.print_say_1,
        words.print_say_2,
        words.print_say_3,
        words.print_say_4,
    ];
    blocks.push(Block::List(print.map(plain).into()));
    Section {
        id: "true-size",
        title: words.true_size,
        on_new_page: true,
        blocks,
    }
}
