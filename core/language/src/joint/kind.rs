//! What a joint is to the language: its keys and what makes its work.

use jigless_model::joint::With;

use super::joint_context::JointContext;
use super::keys::{Described, Held};
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
    pub housed: bool,
    /// Reads its keys. Everything wrong has been reported where this gives `None`.
    pub(super) read: fn(&Fields) -> Option<Box<dyn Kind>>,
}

/// A joint of some kind, read.
pub(super) trait Kind {
    /// What every kind says.
    fn common(&self) -> Common<'_>;

    /// Whether the part lifts off.
    fn lifts_off(&self) -> bool {
        false
    }

    /// Makes the work of one meeting. Everything wrong has been reported where this gives `None`.
    fn make(&self, joint_context: &mut JointContext) -> Option<()>;
}

/// What every kind of joint says.
pub(super) struct Common<'a> {
    pub(super) with: With,
    pub(super) held: &'a Held,
    /// Where parts without places meet, for the kinds that can say so.
    pub(super) described: Option<&'a Described>,
    /// How deep the cut is, if there is one and the plan says so.
    pub(super) depth: Option<f64>,
}
