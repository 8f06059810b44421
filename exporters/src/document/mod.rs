//! The document of a plan as plain data: what a reader gets, filled once from plan, workpieces, steps, lists and sheets.
//!
//! `booklet-pdf` and `page-html` show it and hold no content of their own. A section is one file of [`sections`] and one
//! line in its list; every word that is not the plan's stands in the tables of `jigless-words`.
//!
//! | file | does |
//! |---|---|
//! | `model` | the data: sections, paragraphs, tables, figures, steps, boxes to tick |
//! | `in_language` | a plan whose built parts have titles in the language |
//! | `context` | what sections are filled from |
//! | `markdown` | what an author writes, as blocks |
//! | `photographs` | the author's photographs in their places |
//! | `pictures` | figures from the drawing code of the other formats |
//! | `sections` | a section each, and the list of them |
//! | `options` | what the user can choose of both formats |

mod context;
mod in_language;
mod markdown;
mod model;
mod options;
mod photographs;
mod pictures;
mod sections;

pub use options::{DocumentLanguage, DocumentOptions};

pub(crate) use in_language::InLanguage;
pub(crate) use model::{
    Align, Block, Check, CutLine, Cuts, Document, Figure, Image, Inline, Row, Section, StepBlock,
    Table,
};

pub(crate) use pictures::TEXT_WIDTH;

use jigless_model::export::ExportInput;

use context::Context;

/// The document of a plan that is already [in the language](InLanguage) of the options.
pub(crate) fn document(input: &ExportInput, options: &DocumentOptions) -> Document {
    let context = Context::new(input, options);
    let plan = input.plan;
    let made = sections::SECTIONS.iter();
    let mut sections: Vec<Section> = made.filter_map(|section| section.of(&context)).collect();
    photographs::put(&context, &mut sections);
    Document {
        title: plan.title.clone(),
        revision: plan.revision.clone(),
        digest: plan.digest.clone(),
        words: context.language,
        cover: sections::cover(&context),
        sections,
    }
}
