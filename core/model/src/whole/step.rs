//! A step in which the parts are put together.

/// One step: a part is added to those that are there already.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The part.
    pub part: String,
    /// What it is put together with before the whole, if the plan says.
    pub group: Option<String>,
    /// Numbers of the joints that are made in this step, in the order of the plan's joints.
    pub joints: Vec<usize>,
    /// Why it comes here, in a few words, where that is more than the next that is joined.
    pub reason: Option<String>,
}
