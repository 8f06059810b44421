//! The steps in which the parts are put together, and what the author says of the order of work.

use crate::source::Spanned;

/// One step: a part is added to those that are there already.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The part.
    pub part: String,
    /// What it is put together with before the whole, if the plan says.
    pub group: Option<String>,
    /// Numbers of the joints that are made in this step, in the order of the plan's joints.
    pub joints: Vec<usize>,
    /// Why it comes here, where that is more than the next that is joined.
    pub reason: Option<OrderReason>,
}

/// Why a part comes where it comes; parts by their ids.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OrderReason {
    /// The plan's `order` names it.
    PlanSaysSo,
    /// Another part cannot come in past it.
    CannotPass(String),
    /// Another part is held between it and the one opposite.
    IsHeld(String),
    /// A driver cannot reach the screws of a part once another is there.
    DriverLater(String),
    /// It comes before a part, for a reason of that part's.
    Before(String, Box<OrderReason>),
}

/// What the author says of one step of the work, or a step of the author's own.
#[derive(Debug, Clone, PartialEq)]
pub struct StepNote {
    /// The name of the step; of a new one where no step has it and `after` is given.
    pub step: Spanned<String>,
    /// What it is called, in place of its own title.
    pub title: Option<String>,
    /// What is done besides, an act a line.
    pub text: Vec<String>,
    /// The step that it follows, in place of its own place.
    pub after: Option<Spanned<String>>,
}
