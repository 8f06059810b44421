//! What the work of one meeting is made from.

use jigless_model::joint::{DrivenScrew, Meeting};
use jigless_model::source::Span;

use super::attach::Made;
use super::meeting::Member;

/// What the work of one meeting is made from, and where it goes.
pub struct Making<'a> {
    pub(super) part: Member<'a>,
    pub(super) to: Member<'a>,
    pub(super) meeting: Meeting,
    pub(super) span: Span,
    pub(super) made: Vec<Made>,
    pub(super) screws: Vec<DrivenScrew>,
    pub(super) glue: f64,
    /// Whether the meeting is known from places and not from an edge and a face.
    pub(super) placed: bool,
}
