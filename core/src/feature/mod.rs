//! Features: what an author asks for on a part. One module each, with its keys, its reading, its own findings and its
//! lowering; and the list of them.
//!
//! Adding one means a module with a [`FeatureKind`] and a line in [`FEATURES`].

mod bevel;
mod caster_plate;
mod common;
mod corner;
mod cutout;
mod edge_hole;
pub mod fact;
mod groove;
mod hinge_cups;
mod hinge_plates;
mod hole;
mod hole_row;
mod mark;
mod notch;
mod outline;
mod pin_rows;
mod pocket_holes;
mod rebate;
mod recess;
mod runner_holes;
mod shape;

use std::fmt::Debug;
use std::sync::Arc;

use crate::feature::fact::Fact;
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

/// Every kind of feature, in the order in which the manual shows them.
pub static FEATURES: &[&FeatureKind] = &[
    &hole::KIND,
    &hole_row::KIND,
    &edge_hole::KIND,
    &groove::KIND,
    &rebate::KIND,
    &recess::KIND,
    &cutout::KIND,
    &notch::KIND,
    &corner::KIND,
    &bevel::KIND,
    &outline::KIND,
    &mark::KIND,
    &hinge_cups::KIND,
    &hinge_plates::KIND,
    &pocket_holes::KIND,
    &pin_rows::KIND,
    &runner_holes::KIND,
    &caster_plate::KIND,
];

/// The kinds of features that a plan may use.
#[derive(Debug, Clone)]
pub struct Registry {
    kinds: Vec<&'static FeatureKind>,
}

impl Registry {
    /// All features of this crate.
    pub fn new() -> Self {
        Self {
            kinds: FEATURES.to_vec(),
        }
    }

    /// The same with one more kind.
    #[must_use]
    pub fn with(mut self, kind: &'static FeatureKind) -> Self {
        self.kinds.push(kind);
        self
    }

    /// The kind of a key.
    pub fn kind(&self, key: &str) -> Option<&'static FeatureKind> {
        self.kinds.iter().copied().find(|kind| kind.key == key)
    }

    /// Every kind.
    pub fn kinds(&self) -> impl Iterator<Item = &'static FeatureKind> {
        self.kinds.iter().copied()
    }

    /// Every key.
    pub fn keys(&self) -> Vec<&'static str> {
        self.kinds.iter().map(|kind| kind.key).collect()
    }
}

impl Default for Registry {
    fn default() -> Self {
        Self::new()
    }
}

#[cfg(test)]
mod tests {
    use super::FEATURES;
    use crate::resolve::{Field, Shape};

    fn check_fields(owner: &str, fields: &[Field]) {
        for (index, field) in fields.iter().enumerate() {
            let name = format!("{owner}.{}", field.key);
            assert!(!field.help.is_empty(), "{name} says nothing of itself");
            assert!(
                fields[..index].iter().all(|other| other.key != field.key),
                "{name} is declared twice"
            );
            if let Shape::Map(inner) | Shape::Maps(inner) = field.shape {
                check_fields(&name, inner);
            }
        }
    }

    #[test]
    fn every_feature_is_named_once_and_documented() {
        for (index, kind) in FEATURES.iter().enumerate() {
            assert!(FEATURES[..index].iter().all(|other| other.key != kind.key));
            assert!(!kind.summary.is_empty(), "{}", kind.key);
            check_fields(kind.key, kind.fields);
        }
    }
}
