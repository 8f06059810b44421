//! The list of all features, and the choice of them that a plan may use.

use super::kind::FeatureKind;
use super::{
    bevel, caster_plate, corner, cutout, edge_hole, fixings, groove, hinge_cups, hinge_plates,
    hole, hole_row, mark, notch, outline, pin_rows, pocket_holes, rebate, recess, runner_holes,
};

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
    &fixings::KIND,
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
