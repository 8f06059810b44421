//! Findings and problems as text for a terminal. Colours are always written; what prints them takes them out again
//! where they do not belong.

use std::fmt::Write;
use std::ops::Range;

use annotate_snippets::{
    Annotation, AnnotationKind, Element, Group, Level, Origin, Renderer, Snippet,
    normalize_untrusted_str,
};
use jigless_core::diag::{Finding, Findings, Severity};
use jigless_core::source::{FileId, SourceFile, Sources, Span};

use crate::exit::Problem;

/// How many findings of one plan are shown; who has more mends the first ones first.
const SHOWN: usize = 100;
/// The longest excerpt in bytes: a generated file may be one line of many megabytes.
const LONGEST_EXCERPT: usize = 8_000;

/// All findings in order of place, each with its excerpt.
pub fn findings(sources: &Sources, findings: Findings) -> String {
    let list = findings.sorted();
    let mut text = String::new();
    // What stops the export must be among what is shown.
    let errors_first = list.iter().filter(|f| f.severity == Severity::Error);
    let others = list.iter().filter(|f| f.severity != Severity::Error);
    let shown: Vec<&Finding> = if list.len() > SHOWN {
        errors_first.chain(others).take(SHOWN).collect()
    } else {
        list.iter().collect()
    };
    for finding in shown {
        text.push_str(&one_finding(sources, finding));
        text.push_str("\n\n");
    }
    if list.len() > SHOWN {
        // Writing to a String cannot fail.
        let _ = write!(text, "and {} more findings\n\n", list.len() - SHOWN);
    }
    text
}

/// One finding with its excerpt.
fn one_finding(sources: &Sources, finding: &Finding) -> String {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let title = level
        .primary_title(&finding.message)
        .id(finding.code.as_str());
    let mut group = Group::with_title(title);
    for element in excerpts(sources, finding) {
        group = group.element(element);
    }
    if let Some(fix) = &finding.fix {
        group = group.element(Level::HELP.message(normalize_untrusted_str(fix)));
    }
    Renderer::styled().render(&[group])
}

/// The place of a finding, and its other places, one excerpt for each text.
fn excerpts<'a>(sources: &'a Sources, finding: &'a Finding) -> Vec<Element<'a>> {
    let Some(primary) = finding.span else {
        return Vec::new();
    };
    let mut files: Vec<FileId> = vec![primary.file];
    for label in &finding.labels {
        if !files.contains(&label.span.file) {
            files.push(label.span.file);
        }
    }
    let excerpt = |file: FileId| {
        let main = Some(primary).filter(|span| span.file == file);
        let main = main.map(|span| (AnnotationKind::Primary, span, None));
        let others = finding.labels.iter().filter(|l| l.span.file == file);
        let others = others.map(|l| (AnnotationKind::Context, l.span, Some(l.text.as_str())));
        excerpt(
            sources.file(file),
            &main.into_iter().chain(others).collect::<Vec<_>>(),
        )
    };
    files.into_iter().map(excerpt).collect()
}

type Mark<'a> = (AnnotationKind, Span, Option<&'a str>);

/// The lines of one text that hold some places, or only the first place where they are too long to show.
fn excerpt<'a>(file: &'a SourceFile, marks: &[Mark<'a>]) -> Element<'a> {
    let text = &file.text;
    let spans: Vec<Range<usize>> = marks.iter().map(|mark| within(text, mark.1)).collect();
    let start = spans.iter().map(|span| span.start).min().unwrap_or(0);
    let end = spans.iter().map(|span| span.end).max().unwrap_or(0);
    let start = text[..start].rfind('\n').map_or(0, |newline| newline + 1);
    let end = text[end..]
        .find('\n')
        .map_or(text.len(), |newline| end + newline);
    let (line, column) = file.line_column(marks.first().map_or(0, |mark| mark.1.start));
    if end - start > LONGEST_EXCERPT {
        return Origin::path(&file.name)
            .line(line)
            .char_column(column)
            .into();
    }
    let annotation = |(mark, span): (&Mark<'a>, &Range<usize>)| -> Annotation<'a> {
        mark.0
            .span(span.start - start..span.end - start)
            .label(mark.2)
    };
    Snippet::source(&text[start..end])
        .path(&file.name)
        .line_start(file.line_column(start as u32).0)
        .annotations(marks.iter().zip(&spans).map(annotation))
        .into()
}

/// A span cut to the text and to its first line: a mark over a whole map would bury the page.
fn within(text: &str, span: Span) -> Range<usize> {
    let boundary = |at: u32| {
        let at = (at as usize).min(text.len());
        (0..=at)
            .rev()
            .find(|&at| text.is_char_boundary(at))
            .unwrap_or(0)
    };
    let start = boundary(span.start);
    let end = boundary(span.end).max(start);
    let line = text[start..end].find('\n').unwrap_or(end - start);
    start..start + text[start..start + line].trim_end().len()
}

/// A problem without a place.
pub fn problem(problem: &Problem) -> String {
    // The first line is the title; files that a problem names follow on lines of their own.
    let mut lines = problem.message.lines();
    let title = lines.next().unwrap_or_default();
    let mut group = Group::with_title(Level::ERROR.primary_title(title));
    let rest: Vec<String> = lines.map(normalize_untrusted_str).collect();
    if !rest.is_empty() {
        group = group.element(Level::NOTE.no_name().message(rest.join("\n")));
    }
    if let Some(fix) = &problem.fix {
        group = group.element(Level::HELP.message(normalize_untrusted_str(fix)));
    }
    format!("{}\n\n", Renderer::styled().render(&[group]))
}

/// A warning without a place.
pub fn warning(message: &str, fix: &str) -> String {
    remark(Level::WARNING, message, fix)
}

/// A note without a place.
pub fn note(message: &str, fix: &str) -> String {
    remark(Level::NOTE, message, fix)
}

fn remark(level: Level, message: &str, fix: &str) -> String {
    let group = Group::with_title(level.primary_title(message))
        .element(Level::HELP.message(normalize_untrusted_str(fix)));
    format!("{}\n\n", Renderer::styled().render(&[group]))
}

/// `2 errors, 1 warning`; nothing where there are neither.
pub fn tally(errors: usize, warnings: usize) -> Option<String> {
    let words: Vec<String> = [(errors, "error"), (warnings, "warning")]
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| counted(count, word))
        .collect();
    (!words.is_empty()).then(|| words.join(", "))
}

/// `1 part`, `2 parts`.
pub fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::codes;

    fn plain(text: &str) -> String {
        anstream::adapter::strip_str(text).to_string()
    }

    fn span(sources: &Sources, file: FileId, word: &str) -> Span {
        let start = sources.file(file).text.find(word).unwrap() as u32;
        Span {
            file,
            start,
            end: start + word.len() as u32,
        }
    }

    #[test]
    fn a_finding_shows_its_place_and_what_to_do() {
        let mut sources = Sources::default();
        let file = sources.add(
            "shelf/plan.yaml",
            "jigless: 1\nunits: mm\nparts:\n  é: {widht: 5}\nend: 1\n",
        );
        let other = sources.add("shelf/tray.yaml", "a: 1\nwidth: 7\n");
        let finding = Finding::error(
            jigless_core::check::codes::UNKNOWN_KEY,
            span(&sources, file, "widht"),
            "no key `widht`\u{1b}[2J",
        )
        .fix("did you mean `width`?")
        .label(span(&sources, other, "width: 7"), "set here");
        let text = plain(&findings(&sources, finding.into()));
        let expected = "\
error[unknown-key]: no key `widht`\u{241b}[2J
 --> shelf/plan.yaml:4:7
  |
4 |   é: {widht: 5}
  |       ^^^^^
  |
 ::: shelf/tray.yaml:2:1
  |
2 | width: 7
  | -------- set here
  |
  = help: did you mean `width`?
";
        let lines = |text: &str| {
            text.lines()
                .map(|l| l.trim_end().to_owned())
                .collect::<Vec<_>>()
        };
        assert_eq!(lines(text.trim_end()), lines(expected), "{text}");
    }

    #[test]
    fn places_beyond_the_text_and_empty_texts_do_no_harm() {
        let mut sources = Sources::default();
        for text in ["", "é", "a\r\nb", "\n\n"] {
            let file = sources.add("plan.yaml", text);
            for start in 0..6 {
                for end in 0..6 {
                    let span = Span { file, start, end };
                    let text = plain(&findings(
                        &sources,
                        Finding::error(codes::NO_COMMAND, span, "m").into(),
                    ));
                    assert!(text.contains("plan.yaml:"), "{text}");
                }
            }
        }
    }

    #[test]
    fn a_line_of_megabytes_is_not_printed() {
        let mut sources = Sources::default();
        let file = sources.add("plan.yaml", format!("a: 1\n{}", "x".repeat(1_000_000)));
        let span = Span {
            file,
            start: 10,
            end: 12,
        };
        let text = plain(&findings(
            &sources,
            Finding::error(codes::NO_COMMAND, span, "m").into(),
        ));
        assert!(text.contains("plan.yaml:2:6"), "{text}");
        assert!(text.len() < 1000);
    }

    #[test]
    fn when_there_are_too_many_the_errors_come_first() {
        let mut sources = Sources::default();
        let file = sources.add("plan.yaml", "a: 1\n".repeat(300));
        let mut list = Findings::new();
        for at in 0..200 {
            let span = Span {
                file,
                start: at,
                end: at,
            };
            list.push(Finding::warning(codes::BAD_LIMIT, span, "mind this"));
        }
        list.push(Finding::error(
            codes::BAD_COMMAND,
            Span {
                file,
                start: 900,
                end: 901,
            },
            "wrong",
        ));
        let text = plain(&findings(&sources, list));
        assert!(text.starts_with("error[bad-command]: wrong"), "{text}");
        assert!(text.ends_with("and 101 more findings\n\n"));
    }

    #[test]
    fn counts_are_put_in_words() {
        assert_eq!(tally(0, 0), None);
        assert_eq!(tally(1, 0).unwrap(), "1 error");
        assert_eq!(tally(2, 1).unwrap(), "2 errors, 1 warning");
    }
}
