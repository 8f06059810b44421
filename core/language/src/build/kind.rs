//! What a builder is to the language: its keys and what makes its parts.

use super::build_context::BuildContext;
use crate::resolve::{Field, Fields};

/// A kind of builder: what the plan calls it and how it works.
#[derive(Debug)]
pub struct BuilderKind {
    /// Its key in a plan.
    pub key: &'static str,
    /// One line on what it makes.
    pub summary: &'static str,
    /// Its keys.
    pub fields: &'static [Field],
    /// Makes the parts. Everything wrong has been reported through the fields where this gives `None`.
    pub build: fn(&Fields, &mut BuildContext) -> Option<()>,
}
