//! What goes to the terminal, and what becomes of a run whose reader has gone.

use std::io::{self, ErrorKind, Write};

use crate::args::MessageFormat;
use crate::disk::in_words;
use crate::exit::{Exit, Problem};
use crate::message::Message;
use crate::{report, sarif};

/// Standard output and standard error.
#[derive(Debug, Default)]
pub struct Console {
    quiet: bool,
    format: MessageFormat,
    /// What a document at the end will hold.
    gathered: Vec<Message>,
    /// Why standard output takes no more.
    closed: Option<io::Error>,
}

impl Console {
    /// `quiet` leaves out the lines about results; of findings, whoever puts them in words leaves out all but errors.
    pub fn new(quiet: bool, format: MessageFormat) -> Self {
        Self {
            quiet,
            format,
            ..Self::default()
        }
    }

    /// Whether only errors are printed, and counts at the end.
    pub fn is_quiet(&self) -> bool {
        self.quiet
    }

    /// Prints a result.
    pub fn out(&mut self, text: &str) {
        // What programs read is not mixed with lines for people.
        if self.quiet || self.format != MessageFormat::Human {
            return;
        }
        self.write(text);
    }

    /// Prints findings and problems, as the format asks.
    pub fn tell(&mut self, report: &str, messages: &[Message]) {
        match self.format {
            MessageFormat::Human => err(report),
            MessageFormat::Json => {
                let lines: String = messages.iter().map(Message::to_line).collect();
                self.write(&lines);
            }
            MessageFormat::Sarif => self.gathered.extend_from_slice(messages),
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
        if self.format == MessageFormat::Sarif {
            let gathered = std::mem::take(&mut self.gathered);
            self.write(&sarif::document(&gathered, exit == Exit::Done));
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

/// Prints a fault. Nobody can be told if that fails.
pub fn err(text: &str) {
    let _ = anstream::stderr().lock().write_all(text.as_bytes());
}

/// Prints a problem.
pub fn problem(problem: &Problem) {
    err(&report::problem(problem));
}
