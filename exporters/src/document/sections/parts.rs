//! Each part by itself, reduced.

use jigless_model::plan::Grain;
use jigless_model::workpiece::Workpiece;

use crate::document::context::Context;
use crate::document::model::{Block, Section, plain};
use crate::document::pictures;
use jigless_words::said;

/// The section.
pub(super) fn section(context: &Context) -> Section {
    let words = context.words;
    let mut workpieces: Vec<&Workpiece> = context.input.workpieces.iter().collect();
    workpieces.sort_by_key(|workpiece| {
        let mark = context.mark(&workpiece.part);
        (mark.len(), mark)
    });
    let mut blocks = vec![Block::Paragraph(plain(words.parts_say))];
    for workpiece in workpieces {
        let part = &workpiece.part;
        let (figures, work) = pictures::part(context, workpiece);
        blocks.push(Block::Heading(
            format!("part-{}", part.id),
            format!("{}  {}", context.mark(part), part.title),
        ));
        blocks.push(Block::Paragraph(plain(facts(context, workpiece))));
        blocks.extend(figures.into_iter().map(Block::Figure));
        if !work.is_empty() {
            blocks.push(Block::List(work.into_iter().map(plain).collect()));
        }
    }
    Section {
        id: "parts",
        title: words.part_drawings,
        on_new_page: true,
        blocks,
    }
}

/// How many, of what, how large, which way the grain runs.
fn facts(context: &Context, workpiece: &Workpiece) -> String {
    let (words, part) = (context.words, &workpiece.part);
    let mut facts = vec![match part.count {
        1 => words.one_piece.to_owned(),
        count => said(words.many_pieces, &[&count.to_string()]),
    }];
    facts.push(format!(
        "{} × {}",
        context.size(part.width, part.height),
        context.thickness(part.thickness())
    ));
    facts.push(part.stock.label.clone());
    match part.grain {
        Grain::Width => facts.push(words.grain_width.to_owned()),
        Grain::Height => facts.push(words.grain_height.to_owned()),
        Grain::None => {}
    }
    if let (true, Some(pair)) = (part.is_mirrored(), &part.pair) {
        let other = context.input.plan.part(&pair.other);
        let other = other.map_or(pair.other.as_str(), |other| other.title.as_str());
        facts.push(said(words.mirror_of, &[other]));
    }
    facts.join(", ")
}
