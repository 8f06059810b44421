//! What a feature is to the language: its keys and what makes its work.

use crate::lower::Lowering;
use crate::resolve::{Field, Fields};

/// A kind of feature: what the plan file calls it and how it works.
#[derive(Debug)]
pub struct FeatureKind {
    /// Its key in a plan.
    pub key: &'static str,
    /// One line on what it is.
    pub summary: &'static str,
    /// Its keys.
    pub fields: &'static [Field],
    /// Reads its keys and puts what it asks for, and what it knows, where it belongs. Everything wrong has been reported
    /// through the fields where this gives `None`.
    pub make: fn(&Fields, &mut Lowering) -> Option<()>,
}
