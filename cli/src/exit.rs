//! How the program ends, and problems that have no place in a text.

use std::process::ExitCode;

/// The exit status. The worst one of a run is the run's own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Exit {
    /// All is done; there may be warnings.
    #[default]
    Done = 0,
    /// A plan, a profile or the value of an option is faulty.
    Faulty = 1,
    /// The command line is wrong: it names something that does not exist.
    Usage = 2,
    /// Something cannot be read or written, or a file that is not ours is in the way.
    Disk = 3,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}

/// Something that is wrong and has no place in a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// How the program ends because of it.
    pub exit: Exit,
    /// What is wrong.
    pub message: String,
    /// What to do about it.
    pub fix: Option<String>,
}

impl Problem {
    /// A problem of one kind.
    pub fn new(exit: Exit, message: impl Into<String>) -> Self {
        Self {
            exit,
            message: message.into(),
            fix: None,
        }
    }

    /// A problem of the command line.
    pub fn usage(message: impl Into<String>) -> Self {
        Self::new(Exit::Usage, message)
    }

    /// A problem of the disk.
    pub fn disk(message: impl Into<String>) -> Self {
        Self::new(Exit::Disk, message)
    }

    /// Says what to do.
    #[must_use]
    pub fn fix(mut self, fix: impl Into<String>) -> Self {
        self.fix = Some(fix.into());
        self
    }
}
