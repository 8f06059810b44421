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
use Fill::{Always, Perhaps};

/// How a section is filled.
#[derive(Clone, Copy)]
pub(super) enum Fill {
    /// Every plan has it.
    Always(fn(&Context) -> Section),
    /// A plan may have nothing for it.
    Perhaps(fn(&Context) -> Option<Section>),
}

impl Fill {
    /// The section of a plan.
    pub(super) fn of(self, context: &Context) -> Option<Section> {
        match self {
            Always(fill) => Some(fill(context)),
            Perhaps(fill) => fill(context),
        }
    }
}

/// Every section, in the order in which it is read.
pub(super) const SECTIONS: &[Fill] = &[
    Perhaps(introduction::section),
    Always(cautions::section),
    Always(needs::section),
    Perhaps(costs::section),
    Always(true_size::section),
    Always(cutting::section),
    Always(parts::section),
    Perhaps(steps::making),
    Always(square::section),
    Perhaps(steps::finish),
    Perhaps(steps::fitting_out),
    Always(maintenance::section),
    Perhaps(revisions::section),
    Always(about::section),
    Always(marks::section),
];
