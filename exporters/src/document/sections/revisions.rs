//! The revisions so far, as the author lists them.

use crate::document::context::Context;
use crate::document::model::{Block, Section, plain};
use jigless_words::said;

/// The section.
pub(super) fn section(context: &Context) -> Option<Section> {
    let mut blocks = Vec::new();
    for (index, of) in context.input.plan.revisions.iter().enumerate() {
        let title = said(context.words.revision_named, &[&of.revision]);
        blocks.push(Block::Heading(format!("revision-{}", index + 1), title));
        blocks.push(Block::List(of.changed.iter().map(plain).collect()));
    }
    (!blocks.is_empty()).then_some(Section {
        id: "revisions",
        title: context.words.revisions,
        on_new_page: false,
        blocks,
    })
}
