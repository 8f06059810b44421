//! What works loose, and is tightened again. Common practice, no source.

use jigless_model::hardware::FittingKind;

use super::needs::takes;
use crate::document::context::Context;
use crate::document::model::{Block, Section, plain};

/// The section.
pub(super) fn section(context: &Context) -> Section {
    let words = context.words;
    let of_kind = [
        (FittingKind::Screw, words.keep_screws),
        (FittingKind::Hinge, words.keep_hinges),
        (FittingKind::Runner, words.keep_runners),
        (FittingKind::Caster, words.keep_casters),
        (FittingKind::WallAnchor, words.keep_wall),
        (FittingKind::ShelfPin, words.keep_pins),
    ];
    let called_for = of_kind
        .into_iter()
        .filter(|(kind, _)| takes(context, *kind));
    let said = called_for.map(|(_, said)| said).chain([words.keep_finish]);
    Section {
        id: "maintenance",
        title: words.maintenance,
        on_new_page: false,
        blocks: vec![Block::List(said.map(plain).collect())],
    }
}
