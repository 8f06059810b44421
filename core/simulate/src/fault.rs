//! What is wrong with a program.

use std::fmt;

/// One thing that is wrong, at the line that is at fault.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// The line, from 1.
    pub line: usize,
    /// What kind of thing it is.
    pub kind: FaultKind,
    /// What it is, with the numbers.
    pub message: String,
}

/// What can be wrong with a program.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FaultKind {
    /// A word that is none of the subset, or has no number.
    Unreadable,
    /// A cut without feed, a turning spindle or a tool.
    NotReady,
    /// An arc whose ends are not equally far from its centre.
    BadArc,
    /// A tool that the machine does not have.
    UnknownTool,
    /// Beyond the bed, or deeper than allowed.
    OutOfBounds,
    /// Ways that pass over one another too often to be followed.
    Crowded,
    /// A rapid through wood.
    RapidThroughWood,
    /// Straight down by a tool that cannot.
    Plunge,
    /// Deeper than the tool may go in one pass, or in all.
    TooDeep,
    /// Wood of a part was taken.
    PartDamaged,
    /// Wood was left that had to go.
    WoodLeft,
}

impl Fault {
    /// A fault.
    pub(crate) fn new(line: usize, kind: FaultKind, message: impl Into<String>) -> Self {
        Self {
            line,
            kind,
            message: message.into(),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {}", self.line, self.message)
    }
}
