//! What a joint is to the language: its keys and what makes its work.

use super::making::Making;
use crate::resolve::{Field, Fields};

/// A kind of joint: what the plan calls it and how it works.
#[derive(Debug)]
pub struct JointKind {
    /// Its key in a plan.
    pub key: &'static str,
    /// One line on what it is.
    pub summary: &'static str,
    /// Its keys.
    pub fields: &'static [Field],
    /// Whether the part goes into a cut of the other one.
    pub captures: bool,
    /// Makes the work of one meeting. Everything wrong has been told where this gives `None`.
    pub(super) make: fn(&Fields, &mut Making) -> Option<()>,
}
