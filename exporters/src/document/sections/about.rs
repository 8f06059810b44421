//! From what the document was made, and under which licence.

use crate::document::context::Context;
use crate::document::model::{Block, Section, plain};
use jigless_words::said;

/// The section.
pub(super) fn section(context: &Context) -> Section {
    let (words, plan) = (context.words, context.input.plan);
    let mut facts = Vec::new();
    if let Some(revision) = &plan.revision {
        facts.push((words.revision.to_owned(), revision.clone()));
    }
    let licence = plan.licence.clone();
    facts.push((
        words.licence.to_owned(),
        licence.unwrap_or_else(|| words.no_licence.to_owned()),
    ));
    facts.push((words.plan.to_owned(), plan.digest.clone()));
    let digest = plan.digest.get(..8).unwrap_or(&plan.digest);
    Section {
        id: "about",
        title: words.about,
        on_new_page: false,
        blocks: vec![
            Block::Facts(facts),
            Block::Paragraph(plain(said(words.about_plan, &[digest]))),
        ],
    }
}
