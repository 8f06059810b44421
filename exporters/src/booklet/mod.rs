//! `booklet-pdf`: the document of a plan on paper, to read, to tick off and to write on.
//!
//! | file | does |
//! |---|---|
//! | `exporter`, `options` | the exporter, and what can be chosen |
//! | `sheet`, `foot` | the page: margins and sizes of type, and what stands at its foot |
//! | `typeset` | words broken into lines |
//! | `slab` | something as wide as the text and as high as it comes, that stays together |
//! | `setter` | what blocks are set with: words, headings, pictures, cautions |
//! | `blocks`, `table`, `step`, `cuts` | blocks of the document as slabs |
//! | `front` | cover and contents |
//! | `flow` | slabs over pages: heads stay with what follows, heads of tables are repeated |
//! | `pages` | all pages, with their numbers |

mod blocks;
mod cuts;
mod exporter;
mod flow;
mod foot;
mod front;
mod options;
mod pages;
mod setter;
mod sheet;
mod slab;
mod step;
mod table;
#[cfg(test)]
mod tests;
mod typeset;

pub use exporter::BookletPdf;
pub use options::{BookletOptions, BookletPaper};
