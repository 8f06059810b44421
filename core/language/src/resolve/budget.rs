//! How much one plan may ask for, whatever asks: a count, a repeat, a builder, a joint.

use std::cell::Cell;

use jigless_model::diag::Finding;
use jigless_model::source::Span;

use crate::codes;

/// The most pieces, features, joints and operations that a plan may have whose text is so many bytes long, all counts and
/// repeats included. What an author wrote out may be much; what a few numbers ask for may be what a shop can make.
pub fn most_things(bytes: usize) -> usize {
    (40_000 + bytes / 8).min(1_000_000)
}

/// The most different parts that a plan may have whose text is so many bytes long, both of a handed pair counted. Each
/// of them makes files of its own in every format: a thousand take about a second. A plan of 10,000 parts that are written
/// out has to be checked, which takes seconds; more of them are not one piece of furniture.
pub fn most_parts(bytes: usize) -> usize {
    (1_000 + bytes / 50).min(12_000)
}

/// What a plan may still ask for. Everything that a number of the plan can multiply is charged where it is made, before
/// it fills the memory; what breaks the budget is reported once, at the place that asks for it.
#[derive(Debug)]
pub struct Budget {
    most: usize,
    left: Cell<usize>,
    most_parts: usize,
    parts_left: Cell<usize>,
    broken: Cell<bool>,
}

impl Budget {
    /// The budget of a plan of which nothing is read yet, by the length of its text with all that it includes.
    pub(crate) fn new(bytes: usize) -> Self {
        let most = most_things(bytes);
        Self {
            most,
            left: Cell::new(most),
            most_parts: most_parts(bytes),
            parts_left: Cell::new(most_parts(bytes)),
            broken: Cell::new(false),
        }
    }

    /// Room for what a feature asks for, and one more, so that too much is seen as too much.
    pub(crate) fn room(&self) -> usize {
        self.left.get() + 1
    }

    /// Whether the plan asks for more than it may have.
    pub(crate) fn is_broken(&self) -> bool {
        self.broken.get()
    }

    /// Takes what is asked for at a place.
    ///
    /// # Errors
    /// When that is more than is left: what to report, the first time.
    pub(super) fn charge(&self, things: usize, span: Span) -> Result<(), Option<Finding>> {
        if self.broken.get() {
            return Err(None);
        }
        if let Some(left) = self.left.get().checked_sub(things) {
            self.left.set(left);
            return Ok(());
        }
        Err(Some(self.broken_at(
            span,
            &format!("{} pieces, features, joints and operations", self.most),
        )))
    }

    /// Takes different parts that are made at a place.
    ///
    /// # Errors
    /// As [`Budget::charge`].
    pub(super) fn charge_parts(&self, parts: usize, span: Span) -> Result<(), Option<Finding>> {
        if self.broken.get() {
            return Err(None);
        }
        if let Some(left) = self.parts_left.get().checked_sub(parts) {
            self.parts_left.set(left);
            return Ok(());
        }
        let parts = format!("{} different parts", self.most_parts);
        Err(Some(self.broken_at(span, &parts)))
    }

    fn broken_at(&self, span: Span, most: &str) -> Finding {
        self.broken.set(true);
        let message = format!(
            "with what is asked for here the plan has more than {most}, the most for a text of its length"
        );
        Finding::error(codes::TOO_MANY_OPERATIONS, span, message)
            .fix("check the numbers here, or split it into several plans")
    }
}
