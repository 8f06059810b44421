//! Cutting pages, for who stands at the saw: sheets and boards in pictures, and every cut in words.
//!
//! | file | does |
//! |---|---|
//! | `job` | names everything that is cut, and lists sheets and boards with their cuts |
//! | `board_cuts` | a board as a numbered list of cuts |
//! | `cut_words` | the cuts in words |
//! | `overview` | the cut list, what is needed and what is left |
//! | `sketch` | lines, numbers on lines, labels and hatching that keep off each other |
//! | `sheet_picture`, `board_picture` | pictures to scale |
//! | `flow` | entries one under the other, over as many pages as it takes |
//! | `pages` | all pages |
//! | `laid` | layouts and cuts for a document, which has pages of its own |
//! | `pdf`, `svg`, `json` | the formats |
//! | `shelf` | what is left over, for the next plan |
//! | `suits` | which plans they are for |

mod board_cuts;
mod board_picture;
mod cut_words;
pub(crate) mod flow;
mod job;
mod json;
mod laid;
mod overview;
mod pages;
mod pdf;
mod sheet_picture;
mod shelf;
mod sketch;
mod suits;
mod svg;
#[cfg(test)]
mod tests;

pub(crate) use flow::CutEntry;
pub(crate) use laid::{Laid, laid, reading, summaries};
pub(crate) use suits::saw as is_for_saw;

pub use json::{CuttingJson, CuttingJsonOptions};
pub use pdf::{CuttingPdf, CuttingPdfOptions};
pub use svg::{CuttingSvg, CuttingSvgOptions};
