//! What the author says before everything else.

use crate::document::context::Context;
use crate::document::markdown::blocks;
use crate::document::model::Section;
use crate::document::photographs::introduction;

/// The section.
pub(super) fn section(context: &Context) -> Option<Section> {
    let text = context.input.plan.introduction.join("\n\n");
    let blocks = blocks(&text, "introduction");
    (!blocks.is_empty()).then(|| Section {
        blocks,
        ..introduction(context.words)
    })
}
