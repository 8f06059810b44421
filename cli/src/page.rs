//! What a page of text is printed on: how wide it is, and whether it has colours.

use std::io;

use anstream::ColorChoice;

/// The widest that running text is set: longer lines are hard to read.
const WIDEST: usize = 100;
/// The widest that a quoted line is where no terminal says how wide it is.
const QUOTED: usize = 120;
/// The narrowest terminal that is reckoned with.
const NARROWEST: usize = 30;

/// The page.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Page {
    /// The columns of the terminal; none where the text goes to a file or another program.
    pub columns: Option<usize>,
    /// Whether colours are shown.
    pub colours: bool,
}

impl Page {
    /// Standard error as it is.
    pub fn of_stderr() -> Self {
        Self {
            columns: columns(terminal_size::terminal_size_of(io::stderr())),
            colours: anstream::AutoStream::choice(&io::stderr()) != ColorChoice::Never,
        }
    }

    /// Standard output as it is.
    pub fn of_stdout() -> Self {
        Self {
            columns: columns(terminal_size::terminal_size_of(io::stdout())),
            colours: anstream::AutoStream::choice(&io::stdout()) != ColorChoice::Never,
        }
    }

    /// Where running text is broken; nowhere where no terminal shows it, so that programs find whole lines.
    pub fn text(self) -> Option<usize> {
        self.columns.map(|columns| columns.min(WIDEST))
    }

    /// Where explanations are broken, which people read wherever they are printed.
    pub fn explanation(self) -> usize {
        self.columns.unwrap_or(WIDEST).min(WIDEST)
    }

    /// How many columns a quoted line may take.
    pub fn quoted(self) -> usize {
        self.columns.unwrap_or(QUOTED)
    }
}

fn columns(size: Option<(terminal_size::Width, terminal_size::Height)>) -> Option<usize> {
    size.map(|(width, _)| usize::from(width.0).max(NARROWEST))
}
