//! Lengths as people write them: `18`, `3/4 in`, `2 1/2 in`, `1 ft 6 in`, `(width - 2*gap)/3`.
//!
//! Three steps: a text becomes tokens, tokens become an [`Expression`], and an expression is worked out against
//! [`Names`] into a [`Quantity`], whose kind is checked all the way: a length times a length is no length.

mod evaluate;
mod expression;
mod quantity;
mod token;

pub use evaluate::{NameFault, Names};
pub use expression::Expression;
pub use quantity::{Kind, Quantity};

/// Why a text is no length, and which bytes of it are to blame.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LengthFault {
    /// First byte to blame, counted from the start of the text.
    pub start: usize,
    /// The byte after the last one to blame.
    pub end: usize,
    /// What is wrong.
    pub message: String,
    /// What to write instead.
    pub fix: String,
    /// Whether the cause is reported where it stands, so that telling it here again would only be noise.
    pub reported: bool,
}

impl LengthFault {
    fn new(
        range: std::ops::Range<usize>,
        message: impl Into<String>,
        fix: impl Into<String>,
    ) -> Self {
        Self {
            start: range.start,
            end: range.end,
            message: message.into(),
            fix: fix.into(),
            reported: false,
        }
    }
}
