//! What a feature is to the language: its keys, its reading and its lowering.

use std::fmt::Debug;
use std::sync::Arc;

use jigless_model::fact::Fact;

use crate::lower::Lowering;
use crate::resolve::{Field, Fields, Frame};

/// What an author asks for on a part, read and ready to be lowered.
pub trait Feature: Debug + Send + Sync {
    /// Turns itself into operations and shapes of the contour, and tells what cannot be made.
    fn lower(&self, out: &mut Lowering);

    /// What it knows of hardware and of other parts, for the checks; nothing where it takes wood away and no more.
    fn facts(&self) -> Vec<Fact> {
        Vec::new()
    }
}

/// A kind of feature: what the plan file calls it and how it is read.
#[derive(Debug)]
pub struct FeatureKind {
    /// Its key in a plan.
    pub key: &'static str,
    /// One line on what it is.
    pub summary: &'static str,
    /// Its keys.
    pub fields: &'static [Field],
    /// Reads it. Everything wrong has been told through the fields where this gives `None`.
    pub read: fn(&Fields, &Frame) -> Option<Arc<dyn Feature>>,
}
