//! The index of marks.

use jigless_model::plan::Part;

use crate::document::context::Context;
use crate::document::model::{Block, Column, Inline, Row, Section, Table, plain};

/// The section.
pub(super) fn section(context: &Context) -> Section {
    let words = context.words;
    let row = |part: &&Part| {
        let mut steps = Vec::new();
        let own = context.steps.iter();
        for step in own.filter(|step| step.pieces.iter().any(|pieces| pieces.part == part.id)) {
            if !steps.is_empty() {
                steps.push(Inline::Text(", ".to_owned()));
            }
            let anchor = format!("step-{}", step.number);
            steps.push(Inline::Anchor(step.number.to_string(), anchor));
        }
        Row {
            cells: vec![
                plain(context.mark(part)),
                plain(part.count.to_string()),
                vec![Inline::Anchor(
                    part.title.clone(),
                    format!("part-{}", part.id),
                )],
                plain(context.size(part.width, part.height)),
                vec![Inline::Page(format!("part-{}", part.id))],
                steps,
            ],
            part: Some(part.id.clone()),
            tick: false,
        }
    };
    Section {
        id: "marks",
        title: words.index,
        on_new_page: false,
        blocks: vec![
            Block::Paragraph(plain(words.about_marks)),
            Block::Table(Table {
                name: words.index.to_owned(),
                columns: vec![
                    Column::words(words.mark),
                    Column::numbers(words.count),
                    Column::words(words.part),
                    Column::words(words.size),
                    Column::numbers(words.drawing),
                    Column::words(words.steps),
                ],
                rows: context.parts_by_mark().iter().map(row).collect(),
            }),
        ],
    }
}
