//! One of the two parts of a joint.

use jigless_model::plan::Part;

/// One of the two parts of a joint.
#[derive(Debug, Clone, Copy)]
pub(super) struct Member<'a> {
    pub(super) part: &'a Part,
}

impl Member<'_> {
    /// The part that carries the features: of a handed pair the first.
    pub(super) fn part_id(&self) -> &str {
        match &self.part.pair {
            Some(pair) if pair.mirrored => &pair.other,
            _ => &self.part.id,
        }
    }

    /// What `only` says of work on this member alone.
    pub(super) fn only(&self) -> Option<&str> {
        self.part.pair.as_ref().map(|_| self.part.id.as_str())
    }
}
