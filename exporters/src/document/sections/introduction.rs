//! What the author says before everything else.

use crate::document::context::Context;
use crate::document::markdown::blocks;
use crate::document::model::Section;

/// The section.
pub(super) fn section(context: &Context) -> Option<Section> {
    let text = context.input.plan.introduction.join("\n\n");
    let blocks = blocks(&text, "introduction");
    (!blocks.is_empty()).then_some(Section {
        id: "introduction",
        title: context.words.introduction,
        on_new_page: false,
        blocks,
    })
}
