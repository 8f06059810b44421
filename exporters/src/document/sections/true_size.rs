//! How sheets are measured and templates printed.

use crate::document::context::Context;
use crate::document::model::{Block, Column, Row, Section, Table, plain};

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
    let mut blocks: Vec<Block> = words
        .measure_say
        .iter()
        .map(|said| Block::Paragraph(plain(*said)))
        .collect();
    blocks.push(Block::Table(table));
    let heading = words.print_heading.to_owned();
    blocks.push(Block::Heading("print".to_owned(), heading));
    blocks.push(Block::List(
        words.print_say.iter().map(|said| plain(*said)).collect(),
    ));
    Section {
        id: "true-size",
        title: words.true_size,
        on_new_page: true,
        blocks,
    }
}
