//! What goes to the terminal, and what becomes of a run whose reader has gone.

use std::borrow::Cow;
use std::io::{self, ErrorKind, IsTerminal, Write};

use jigless_core::diag::Severity;

use crate::args::FindingsForm;
use crate::disk::in_words;
use crate::exit::{Exit, Problem};
use crate::message::Message;
use crate::page::Page;
use crate::styled::{Styled, visible, visible_json};
use crate::{report, sarif};

/// Standard output and standard error.
#[derive(Debug, Default)]
pub struct Console {
    quiet: bool,
    form: FindingsForm,
    /// What a document at the end will hold.
    gathered: Vec<Message>,
    /// Why standard output takes no more.
    closed: Option<io::Error>,
}

impl Console {
    /// A `quiet` one leaves out the lines about results, and of what is reported in words all but errors.
    pub fn new(quiet: bool, form: FindingsForm) -> Self {
        Self {
            quiet,
            form,
            ..Self::default()
        }
    }

    /// Whether only errors are printed, and counts at the end.
    pub fn is_quiet(&self) -> bool {
        self.quiet
    }

    /// Prints a result.
    pub fn out(&mut self, text: &str) {
        self.out_styled(&Styled::from(text));
    }

    /// Prints a result with styles.
    pub fn out_styled(&mut self, text: &Styled) {
        // What programs read is not mixed with lines for people.
        if self.quiet || self.form != FindingsForm::Words {
            return;
        }
        self.write(text.as_str());
    }

    /// Prints a document that is meant for a file or another program, and changes nothing in it; only on a terminal is
    /// shown what would steer it.
    pub fn document(&mut self, text: &str) {
        let text = if io::stdout().is_terminal() {
            Cow::Owned(visible(text))
        } else {
            Cow::Borrowed(text)
        };
        self.write(&text);
    }

    /// Prints findings and problems, in the form that was asked for.
    pub fn report(&mut self, messages: &[Message]) {
        match self.form {
            FindingsForm::Words => {
                let page = Page::of_stderr();
                let shown = messages
                    .iter()
                    .filter(|message| !self.quiet || is_loud(message));
                let shown: Vec<Message> = shown.cloned().collect();
                err(report::words(&shown, page).as_str());
            }
            FindingsForm::Lines => {
                let lines: String = messages.iter().map(Message::to_line).collect();
                self.write(&lines);
            }
            FindingsForm::Sarif => self.gathered.extend_from_slice(messages),
        }
    }

    fn write(&mut self, text: &str) {
        if self.closed.is_some() {
            return;
        }
        let mut out = anstream::stdout().lock();
        self.closed = out
            .write_all(text.as_bytes())
            .and_then(|()| out.flush())
            .err();
    }

    /// How the program ends: a reader that has gone is no fault, any other failure to print results is.
    pub fn finish(mut self, exit: Exit) -> Exit {
        if self.form == FindingsForm::Sarif {
            let gathered = std::mem::take(&mut self.gathered);
            let document = sarif::document(&gathered, exit == Exit::Done);
            self.write(&visible_json(&document));
        }
        match &self.closed {
            Some(error) if error.kind() != ErrorKind::BrokenPipe => {
                let message = format!("standard output cannot be written: {}", in_words(error));
                problem(&Problem::disk(message));
                exit.max(Exit::Disk)
            }
            _ => exit,
        }
    }
}

/// Whether a message is printed when only errors are.
fn is_loud(message: &Message) -> bool {
    match message {
        Message::Finding(found) => found.severity == Severity::Error,
        Message::Problem { severity, .. } => *severity == Severity::Error,
        Message::Summary { .. } => true,
    }
}

/// Prints a fault. If that fails, there is nowhere to report it.
fn err(text: &str) {
    let _ = anstream::stderr().lock().write_all(text.as_bytes());
}

/// Prints a problem.
pub fn problem(problem: &Problem) {
    err(report::problem(problem, Page::of_stderr()).as_str());
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quiet_console_keeps_errors_and_counts() {
        let loud = |severity| is_loud(&Message::remark(severity, "a", "b"));
        assert!(loud(Severity::Error));
        assert!(!loud(Severity::Warning) && !loud(Severity::Note));
        assert!(is_loud(&Message::Summary {
            errors: 0,
            warnings: 3,
            not_listed: 0,
            exit: 0
        }));
    }
}
