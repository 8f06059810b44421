//! The author's photographs, where the plan puts them.

use jigless_model::photograph::{Chapter, Photograph, PhotographPlace};
use jigless_words::DocumentWords;

use super::context::Context;
use super::model::{Block, Figure, Image, Section};

/// Those of a step, by its name.
pub(crate) fn of_step(context: &Context, step: &str) -> Vec<Figure> {
    let own = |photograph: &&Photograph| matches!(&photograph.place, PhotographPlace::Step(name) if name.value == step);
    let photographs = context.input.plan.photographs.iter().filter(own);
    photographs.filter_map(figure).collect()
}

/// Puts the others at the ends of their sections, and into the introduction where the plan has nothing for that section.
pub(crate) fn put(context: &Context, sections: &mut Vec<Section>) {
    for photograph in &context.input.plan.photographs {
        let PhotographPlace::Chapter(chapter) = photograph.place else {
            continue;
        };
        let Some(figure) = figure(photograph) else {
            continue;
        };
        let index = [chapter, Chapter::Introduction]
            .iter()
            .find_map(|chapter| {
                sections
                    .iter()
                    .position(|section| section.id == chapter.name())
            })
            .unwrap_or_else(|| {
                sections.insert(0, introduction(context.words));
                0
            });
        sections[index].blocks.push(Block::Figure(figure));
    }
}

/// A section for what stands before everything else.
pub(crate) fn introduction(words: &DocumentWords) -> Section {
    Section {
        id: Chapter::Introduction.name(),
        title: words.introduction,
        on_new_page: false,
        blocks: Vec::new(),
    }
}

fn figure(photograph: &Photograph) -> Option<Figure> {
    Some(Figure {
        image: Image::Photograph(photograph.picture.clone()?),
        alternative: photograph.shows.clone(),
        caption: photograph.caption.clone().unwrap_or_default(),
        part: None,
    })
}
