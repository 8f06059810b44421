//! A plan in the language of a document: titles and labels that builders and joints gave are said in it, before anything is
//! filled or drawn. What the author wrote stays.

use std::borrow::Cow;
use std::sync::Arc;

use jigless_model::export::ExportInput;
use jigless_model::operation::Work;
use jigless_model::plan::{Part, Plan};
use jigless_model::workpiece::Workpiece;
use jigless_words::{ENGLISH, Words};

/// A plan and its workpieces in a language.
pub(crate) struct InLanguage<'a> {
    plan: Cow<'a, Plan>,
    workpieces: Cow<'a, [Workpiece]>,
    input: ExportInput<'a>,
}

impl<'a> InLanguage<'a> {
    /// A plan in the language of some words. Nothing is copied where that is the one that builders write.
    pub(crate) fn new(input: &ExportInput<'a>, words: &Words) -> Self {
        if words.tag == ENGLISH.tag {
            return Self {
                plan: Cow::Borrowed(input.plan),
                workpieces: Cow::Borrowed(input.workpieces),
                input: *input,
            };
        }
        let mut plan = input.plan.clone();
        for part in &mut plan.parts {
            *part = Arc::new(part_in(part, words));
        }
        for finish in &mut plan.finish {
            if finish.title == finish.kind.name() {
                words
                    .things
                    .finish(finish.kind)
                    .clone_into(&mut finish.title);
            }
        }
        let workpieces = input.workpieces.iter();
        let workpieces = workpieces.map(|workpiece| workpiece_in(workpiece, words));
        Self {
            plan: Cow::Owned(plan),
            workpieces: Cow::Owned(workpieces.collect()),
            input: *input,
        }
    }

    /// What a document is filled from.
    pub(crate) fn input(&self) -> ExportInput<'_> {
        let mut input = self.input;
        input.plan = &self.plan;
        input.workpieces = &self.workpieces;
        input
    }
}

fn part_in(part: &Part, words: &Words) -> Part {
    let mut part = part.clone();
    part.title = words.built(&part.title);
    let faces = part.face_labels.iter_mut().map(|(_, label)| label);
    let edges = part.edge_labels.iter_mut().map(|(_, label)| label);
    for label in faces.chain(edges) {
        *label = words.built(label);
    }
    part
}

fn workpiece_in(workpiece: &Workpiece, words: &Words) -> Workpiece {
    let mut workpiece = workpiece.clone();
    workpiece.part = Arc::new(part_in(&workpiece.part, words));
    for operation in &mut workpiece.operations {
        if let Some(label) = &mut operation.origin.label {
            *label = words.built(label);
        }
        if let Work::Mark(mark) = &mut operation.work
            && let Some((_, text)) = &mut mark.text
        {
            *text = words.built(text);
        }
    }
    workpiece
}
