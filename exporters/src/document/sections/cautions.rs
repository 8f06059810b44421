//! What the work can do to people, before all work.

use crate::document::context::Context;
use crate::document::model::{Block, Section};

/// The section.
pub(super) fn section(context: &Context) -> Section {
    let said = context.language.cautions.sentences(&context.cautions);
    Section {
        id: "cautions",
        title: context.words.cautions,
        on_new_page: false,
        blocks: vec![Block::Caution(
            said.into_iter().map(str::to_owned).collect(),
        )],
    }
}
