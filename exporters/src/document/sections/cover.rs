//! The first page: what it is, how large, of what, and how much work by count.

use jigless_model::operation::Work;
use jigless_model::plan::Part;

use crate::document::context::Context;
use crate::document::model::Block;
use crate::document::pictures;
use jigless_words::said;

/// What stands under the title.
pub(crate) fn cover(context: &Context) -> Vec<Block> {
    let figure = pictures::cover(context).map(Block::Figure);
    figure
        .into_iter()
        .chain([Block::Facts(facts(context))])
        .collect()
}

fn facts(context: &Context) -> Vec<(String, String)> {
    let (words, plan) = (context.words, context.input.plan);
    let mut facts = Vec::new();
    if let Some(author) = &plan.author {
        facts.push((words.author.to_owned(), author.clone()));
    }
    if let Some(bounds) = context.whole.bounds() {
        let sizes = [0, 1, 2].map(|axis| context.full(bounds.size(axis)));
        facts.push((
            words.overall.to_owned(),
            said(words.overall_size, &[&sizes[0], &sizes[1], &sizes[2]]),
        ));
    }
    let materials: Vec<String> = context
        .stocks()
        .map(|stock| {
            let thickness = context.thickness(stock.thickness);
            format!("{} ({thickness})", stock.label)
        })
        .collect();
    facts.push((words.materials.to_owned(), materials.join("; ")));
    facts.push((words.counted_work.to_owned(), counted(context)));
    facts.push((words.numbers_in.to_owned(), context.lengths.describe()));
    if let Some(revision) = &plan.revision {
        facts.push((words.revision.to_owned(), revision.clone()));
    }
    if let Some(licence) = &plan.licence {
        facts.push((words.licence.to_owned(), licence.clone()));
    }
    facts
}

/// How much work it is: what can be counted, and no opinion.
fn counted(context: &Context) -> String {
    let words = context.words;
    let parts: Vec<&Part> = context.parts().collect();
    let pieces: u32 = parts.iter().map(|part| part.count).sum();
    let joints: u32 = context
        .input
        .plan
        .joints
        .iter()
        .map(|joint| joint.count)
        .sum();
    let count_work = |wanted: fn(&Work) -> bool| -> usize {
        let of = |workpiece: &jigless_model::workpiece::Workpiece| {
            let operations = workpiece.operations.iter();
            let found = operations
                .filter(|operation| wanted(&operation.work))
                .count();
            found * workpiece.part.count as usize
        };
        context.input.workpieces.iter().map(of).sum()
    };
    let holes = count_work(|work| {
        matches!(
            work,
            Work::Drill(_) | Work::EdgeDrill(_) | Work::AngledBore(_)
        )
    });
    let areas = count_work(|work| matches!(work, Work::MillArea(_)));
    let mut counted = vec![said(
        words.counted_pieces,
        &[&pieces.to_string(), &parts.len().to_string()],
    )];
    for (template, count) in [
        (words.counted_joints, joints as usize),
        (words.counted_holes, holes),
        (words.counted_areas, areas),
        (words.counted_steps, context.steps.len()),
    ] {
        if count > 0 {
            counted.push(said(template, &[&count.to_string()]));
        }
    }
    counted.join(", ")
}
