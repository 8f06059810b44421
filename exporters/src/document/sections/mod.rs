//! The sections of a document. Adding one means a file with a function and a line in [`SECTIONS`].

mod about;
mod cautions;
mod costs;
mod cover;
mod cutting;
mod introduction;
mod maintenance;
mod marks;
mod needs;
mod parts;
mod revisions;
mod square;
mod steps;
mod true_size;

pub(super) use cover::cover;

use super::context::Context;
use super::model::Section;

/// Fills a section; `None` where the plan has nothing for it.
type Fill = fn(&Context) -> Option<Section>;

/// Every section, in the order in which it is read.
pub(super) const SECTIONS: &[Fill] = &[
    introduction::section,
    cautions::section,
    needs::section,
    costs::section,
    true_size::section,
    cutting::section,
    parts::section,
    steps::making,
    square::section,
    steps::finish,
    steps::fitting_out,
    maintenance::section,
    revisions::section,
    about::section,
    marks::section,
];
