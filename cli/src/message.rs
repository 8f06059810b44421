//! Findings and problems for other programs: one JSON object on each line, or one SARIF document.
//!
//! The JSON lines are stable: keys may be added, none is taken away or changed in meaning.

use jigless_core::diag::{Finding, Severity};
use jigless_core::source::{Sources, Span};
use serde::Serialize;

use crate::exit::Problem;

/// A finding or problem, with places as people count them.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "type", rename_all = "kebab-case")]
pub enum Message {
    /// Something found in a plan, a profile or an option.
    Finding {
        /// Code, which `jigless explain` explains.
        code: &'static str,
        /// How much it matters.
        severity: Severity,
        /// What is wrong.
        message: String,
        /// What to do about it.
        fix: Option<String>,
        /// Where it is; nothing where no text is to blame.
        place: Option<Place>,
        /// Other places that belong to it.
        labels: Vec<Label>,
    },
    /// Something without a code and a place: a file that cannot be read, a word of the command line.
    Problem {
        /// How much it matters.
        severity: Severity,
        /// What is wrong.
        message: String,
        /// What to do about it.
        fix: Option<String>,
    },
    /// The last line of a run.
    Summary {
        /// How many errors there were.
        errors: usize,
        /// How many warnings there were.
        warnings: usize,
        /// The exit status.
        exit: u8,
    },
}

/// A place in a text. Lines and columns count from 1, columns count characters; the end is the first place after it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Place {
    /// The file as the user would write it.
    pub file: String,
    /// First line.
    pub line: usize,
    /// First column.
    pub column: usize,
    /// Line of the end.
    pub end_line: usize,
    /// Column of the end.
    pub end_column: usize,
    /// First byte, counted from 0.
    pub start: u32,
    /// The byte after the last one.
    pub end: u32,
}

/// A further place.
#[derive(Debug, Clone, Serialize)]
pub struct Label {
    /// What is there.
    pub text: String,
    /// Where.
    pub place: Place,
}

impl Place {
    fn of(sources: &Sources, span: Span) -> Self {
        let file = sources.file(span.file);
        let (line, column) = file.line_column(span.start);
        let (end_line, end_column) = file.line_column(span.end.max(span.start));
        Self {
            file: file.name.clone(),
            line,
            column,
            end_line,
            end_column,
            start: span.start,
            end: span.end.max(span.start),
        }
    }
}

impl Message {
    /// A finding with its places looked up.
    pub fn of_finding(sources: &Sources, finding: &Finding) -> Self {
        Self::Finding {
            code: finding.code.as_str(),
            severity: finding.severity,
            message: finding.message.clone(),
            fix: finding.fix.clone(),
            place: finding.span.map(|span| Place::of(sources, span)),
            labels: finding
                .labels
                .iter()
                .map(|label| Label {
                    text: label.text.clone(),
                    place: Place::of(sources, label.span),
                })
                .collect(),
        }
    }

    /// A problem.
    pub fn of_problem(problem: &Problem) -> Self {
        Self::Problem {
            severity: Severity::Error,
            message: problem.message.clone(),
            fix: problem.fix.clone(),
        }
    }

    /// A remark without a place.
    pub fn remark(severity: Severity, message: &str, fix: &str) -> Self {
        Self::Problem {
            severity,
            message: message.to_owned(),
            fix: Some(fix.to_owned()),
        }
    }

    /// The message as a line of JSON.
    pub fn to_line(&self) -> String {
        // Texts and numbers can always be written.
        let line = serde_json::to_string(self).unwrap_or_default();
        format!("{line}\n")
    }
}
