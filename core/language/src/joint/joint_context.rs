//! What the work of one meeting is made from.

use jigless_model::diag::{Finding, Subject};
use jigless_model::joint::{DrivenScrew, GlueLine, Meeting};
use jigless_model::source::Span;

use super::attach::JointWork;
use super::member::Member;
use crate::build::{Keys, map, text};
use crate::load::Node;
use crate::resolve::Context;

/// What the work of one meeting is made from, and where it goes.
pub struct JointContext<'a> {
    pub(super) context: Context<'a>,
    pub(super) part: Member<'a>,
    pub(super) to: Member<'a>,
    pub(super) meeting: Meeting,
    pub(super) span: Span,
    pub(super) made: Vec<JointWork>,
    pub(super) screws: Vec<DrivenScrew>,
    pub(super) glue: GlueLine,
    /// Whether the meeting is known from places and not from an edge and a face.
    pub(super) placed: bool,
}

impl JointContext<'_> {
    /// Reports a fault.
    pub(super) fn find(&self, mut finding: Finding) {
        finding.details.subject.get_or_insert_with(|| Subject {
            part: self.part.part.id.clone(),
            feature: None,
            work: Vec::new(),
        });
        self.context.find(finding);
    }

    /// Adds a feature to a member.
    pub(super) fn add(&mut self, member: Member, key: &'static str, mut keys: Keys, label: &str) {
        keys.push(("label", text(label)));
        keys.extend(member.only().map(|only| ("only", text(only))));
        let value = map(self.span, [(key, map(self.span, keys))]);
        self.made.push(JointWork {
            part_id: member.part_id().to_owned(),
            node: Node {
                span: self.span,
                value,
            },
        });
    }
}
