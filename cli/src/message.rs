//! What a run reports: findings and problems. They are put in words for people, in one JSON object on each line, or in one
//! SARIF document.
//!
//! The JSON lines are stable: keys may be added, none is taken away or changed in meaning.

use std::ops::Range;

use jigless_core::diag::{Finding, Severity};
use jigless_core::source::{Sources, Span};
use serde::Serialize;

use crate::exit::Problem;
use crate::furniture::Furniture;
use crate::styled::visible_json;

/// The longest line of a file that is kept to be quoted, in bytes on each side of the place: a generated file may be one
/// line of many megabytes.
const QUOTED: usize = 400;

/// A finding or problem, with places as people count them.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "type", rename_all = "kebab-case")]
pub enum Message {
    /// Something found in a plan, a profile or an option.
    Finding(Box<FoundJson>),
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
        /// How many of both are not listed, since one plan has so many.
        not_listed: usize,
        /// The exit status.
        exit: u8,
    },
}

/// Something found in a text.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FoundJson {
    /// Code, which `jigless why` explains.
    pub code: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// What is wrong.
    pub message: String,
    /// Id of the part that it is of, where it is of one.
    pub part: Option<String>,
    /// The feature of that part: its label, or the key of its kind.
    pub feature: Option<String>,
    /// The numbers of its work as on the template: `H1`.
    pub work: Vec<String>,
    /// Where in the furniture it is, from the part to the key; empty where no text is to blame.
    pub path: Vec<String>,
    /// What was measured, with its unit.
    pub measured: Option<String>,
    /// What is wanted instead, with its unit.
    pub wanted: Option<String>,
    /// What to do about it.
    pub fix: Option<String>,
    /// Where it is; nothing where no text is to blame.
    pub place: Option<PlaceJson>,
    /// Other places that belong to it.
    pub labels: Vec<LabelJson>,
}

/// A place in a text. Lines and columns count from 1, columns count characters; the end is the first place after it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PlaceJson {
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
    /// The line itself, for people.
    #[serde(skip)]
    pub quote: Quote,
}

/// A line of a text, and the place in it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Quote {
    /// The line, or what is around the place where the line is too long.
    pub line: String,
    /// The bytes of the place in it; of a place over several lines, those of the first one.
    pub place: Range<usize>,
    /// Whether the line begins before what is quoted.
    pub cut_before: bool,
    /// Whether the line goes on after what is quoted.
    pub cut_after: bool,
}

/// A further place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LabelJson {
    /// What is there.
    pub text: String,
    /// Where.
    pub place: PlaceJson,
}

impl PlaceJson {
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
            quote: Quote::of(&file.text, span),
        }
    }
}

impl Quote {
    /// The line of a place. A place beyond the text is at its end.
    fn of(text: &str, span: Span) -> Self {
        let start = boundary(text, span.start as usize);
        let end = boundary(text, span.end as usize).max(start);
        let line_start = text[..start].rfind('\n').map_or(0, |newline| newline + 1);
        let line_end = text[start..]
            .find('\n')
            .map_or(text.len(), |newline| start + newline);
        let line_end = line_start + text[line_start..line_end].trim_end().len();
        let start = start.min(line_end);
        let end = end.clamp(start, line_end);
        let end = end + closing_bracket(&text[start..end], &text[end..line_end]);
        let from = boundary(text, start.saturating_sub(QUOTED)).max(line_start);
        let to = boundary(text, start + QUOTED).min(line_end);
        let end = end.min(to);
        Self {
            line: text[from..to].to_owned(),
            place: start - from..start - from + text[start..end].trim_end().len(),
            cut_before: from > line_start,
            cut_after: to < line_end,
        }
    }
}

/// How far it is to the bracket that closes a place which begins with one: a map or list is reckoned to its last value.
fn closing_bracket(place: &str, rest: &str) -> usize {
    let bracket = match place.chars().next() {
        Some('{') => '}',
        Some('[') => ']',
        _ => return 0,
    };
    let gap = rest.len() - rest.trim_start().len();
    let closes = !place.ends_with(bracket) && rest[gap..].starts_with(bracket);
    if closes { gap + 1 } else { 0 }
}

/// The last boundary between characters that is not after a byte.
fn boundary(text: &str, byte: usize) -> usize {
    let mut at = byte.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

impl Message {
    /// A finding with its places looked up.
    pub fn of_finding(sources: &Sources, furniture: &mut Furniture, finding: &Finding) -> Self {
        let label = |label: &jigless_core::diag::Label| LabelJson {
            text: label.text.clone(),
            place: PlaceJson::of(sources, label.span),
        };
        let figures = finding.details.figures.as_ref();
        let subject = finding.details.subject.as_ref();
        Self::Finding(Box::new(FoundJson {
            code: finding.code.as_str(),
            severity: finding.severity,
            message: finding.message.clone(),
            part: subject.map(|subject| subject.part.clone()),
            feature: subject.and_then(|subject| subject.feature.clone()),
            work: subject.map_or_else(Vec::new, |subject| subject.work.clone()),
            path: finding
                .span
                .map_or_else(Vec::new, |span| furniture.path(span)),
            measured: figures.map(|figures| figures.measured.clone()),
            wanted: figures.map(|figures| figures.wanted.clone()),
            fix: finding.fix.as_deref().map(str::to_owned),
            place: finding.span.map(|span| PlaceJson::of(sources, span)),
            labels: finding.labels.iter().map(label).collect(),
        }))
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
        format!("{}\n", visible_json(&line))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quote(text: &str, start: u32, end: u32) -> (String, String) {
        let mut sources = Sources::default();
        let file = sources.add("plan.yaml", text);
        let quote = Quote::of(&sources.file(file).text, Span { file, start, end });
        let words = quote.line[quote.place.clone()].to_owned();
        (quote.line, words)
    }

    #[test]
    fn the_line_of_a_place_is_quoted_without_its_end() {
        let text = "a: 1\r\n  b: é\tx \nc: 3";
        let own = |line: &str, words: &str| (line.to_owned(), words.to_owned());
        assert_eq!(quote(text, 3, 4), own("a: 1", "1"));
        assert_eq!(quote(text, 8, 13), own("  b: é\tx", "b: é"));
        assert_eq!(
            quote("a: {b: 1 } # c", 3, 8),
            own("a: {b: 1 } # c", "{b: 1 }")
        );
        // Over several lines, at the end, and beyond it.
        assert_eq!(quote(text, 8, 20), own("  b: é\tx", "b: é\tx"));
        assert_eq!(quote(text, 20, 21), own("c: 3", "3"));
        assert_eq!(quote(text, 90, 99), own("c: 3", ""));
        for text in ["", "é", "a\r\nb", "\n\n"] {
            for start in 0..6 {
                for end in 0..6 {
                    quote(text, start, end);
                }
            }
        }
    }

    #[test]
    fn of_a_line_of_megabytes_little_is_kept() {
        let text = format!("a: 1\n{}", "é".repeat(1_000_000));
        let (line, words) = quote(&text, 500_000, 500_010);
        assert!(line.len() <= 2 * QUOTED + 4, "{}", line.len());
        assert!(
            words.chars().all(|c| c == 'é') && words.len() >= 8,
            "{words}"
        );
    }
}
