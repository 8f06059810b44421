//! The layout of what is reported: the place and what is wrong in one line; then where that is in the furniture, what was
//! measured and what is wanted, the lines of the plan, and what to do.
//!
//! ```text
//! plan.yaml:18:45: error: a screw of 45 mm comes 9 mm out of `rail` (screw-through)
//!   side > hole 2 > screw > length
//!   measured: -9 mm    wanted: at least 1 mm
//!   line 18  - hole: {at: [100, 50], diameter: 4.5, screw: {length: 45, into: rail}}
//!            here: 45
//!   line 5   board: {thickness: 18, kind: plywood}
//!            the stock that it holds to: board
//!   To mend: take a screw at least 10 mm shorter
//! ```
//!
//! The first line has the form that the GNU Coding Standards give for messages, so that editors find the place. Where
//! there are colours, they mark the words at fault in their line and take the place of `here`.

use anstyle::{AnsiColor, Style};
use jigless_core::diag::Severity;
use unicode_width::UnicodeWidthStr;

use super::count::{counted, tally};
use super::quote::{self, Cut};
use crate::exit::Problem;
use crate::message::{FoundJson, Message, PlaceJson};
use crate::page::Page;
use crate::styled::{Styled, shown};

/// How many findings of one plan are shown; who has more mends the first ones first.
const SHOWN: usize = 100;
/// Before everything that belongs to the line above it.
const INDENT: &str = "  ";
/// Before the further lines of a broken text.
const FURTHER: &str = "    ";

const BOLD: Style = Style::new().bold();
const DIM: Style = Style::new().dimmed();
const REMEDY: Style = AnsiColor::Green.on_default().bold();

/// All messages in their order. Of very many findings the errors are shown first.
pub fn words(messages: &[Message], page: Page) -> Styled {
    let mut text = Styled::default();
    let is_finding = |message: &&Message| matches!(message, Message::Finding(_));
    let findings = messages.iter().filter(is_finding).count();
    let mut hidden = 0;
    let mut shown: Vec<&Message> = messages.iter().collect();
    if findings > SHOWN {
        // What stops the export must be among what is shown.
        shown.sort_by_key(|message| match message {
            Message::Finding(found) => (found.severity != Severity::Error, false),
            Message::Problem { .. } | Message::Summary { .. } => (false, true),
        });
        let mut count = 0;
        shown.retain(|message| {
            count += usize::from(is_finding(message));
            !is_finding(message) || count <= SHOWN
        });
        hidden = findings - SHOWN;
    }
    for message in shown {
        match message {
            Message::Finding(found) => finding(&mut text, found, page),
            Message::Problem {
                severity,
                message,
                fix,
            } => placeless(&mut text, *severity, message, fix.as_deref(), page),
            Message::Summary {
                errors,
                warnings,
                not_listed,
                ..
            } => {
                if let Some(words) = tally(*errors, *warnings, *not_listed) {
                    text.add(&format!("{words}\n"));
                }
            }
        }
    }
    if hidden > 0 {
        text.add(&format!(
            "and {} not shown\n\n",
            counted(hidden, "further finding")
        ));
    }
    text
}

/// A problem alone.
pub fn problem(problem: &Problem, page: Page) -> Styled {
    words(&[Message::of_problem(problem)], page)
}

fn finding(text: &mut Styled, found: &FoundJson, page: Page) {
    let mut head = Styled::default();
    if let Some(PlaceJson {
        file, line, column, ..
    }) = &found.place
    {
        head.add(&shown(file.as_ref()));
        head.add(&format!(":{line}:{column}: "));
    } else {
        head.add("jigless: ");
    }
    add_title(&mut head, found.severity, &found.message);
    head.add_in(DIM, &format!(" ({})", found.code));
    add_line(text, &head.wrapped(page.text(), "", FURTHER));
    if !found.path.is_empty() {
        let mut path = Styled::default();
        path.add_in(BOLD, &found.path.join(" > "));
        add_line(text, &path.wrapped(page.text(), INDENT, FURTHER));
    }
    figures(text, found, page);
    quotes(text, found, page);
    remedy(text, "To mend:", found.fix.as_deref(), page);
    text.add("\n");
}

/// Something without a place. Its first line is the title; what follows stands on lines of its own.
fn placeless(text: &mut Styled, severity: Severity, message: &str, fix: Option<&str>, page: Page) {
    let mut lines = message.lines();
    let mut head = Styled::from("jigless: ");
    add_title(&mut head, severity, lines.next().unwrap_or_default());
    add_line(text, &head.wrapped(page.text(), "", FURTHER));
    for line in lines {
        add_line(
            text,
            &Styled::from(format!("{INDENT}{}", line.trim()).as_str()),
        );
    }
    let label = match severity {
        Severity::Error => "To mend:",
        Severity::Warning | Severity::Note => "Hint:",
    };
    remedy(text, label, fix, page);
    text.add("\n");
}

fn add_title(head: &mut Styled, severity: Severity, message: &str) {
    head.add_in(style(severity), &format!("{}:", word(severity)));
    head.add(" ");
    head.add_in(BOLD, &one_line(message));
}

/// What was measured and what is wanted, side by side where they have room.
fn figures(text: &mut Styled, found: &FoundJson, page: Page) {
    let pair = [("measured", &found.measured), ("wanted", &found.wanted)];
    let mut line = Styled::default();
    for (name, figure) in pair.into_iter().filter_map(|(n, f)| Some((n, f.as_ref()?))) {
        if !line.as_str().is_empty() {
            line.add("    ");
        }
        line.add(&format!("{name}: "));
        line.add_in(BOLD, &one_line(figure));
    }
    if !line.as_str().is_empty() {
        add_line(text, &line.wrapped(page.text(), INDENT, INDENT));
    }
}

/// The lines of the texts that a finding points at, each once, and below each what is to be seen there.
fn quotes(text: &mut Styled, found: &FoundJson, page: Page) {
    let Some(first) = &found.place else {
        return;
    };
    let labels = found
        .labels
        .iter()
        .map(|label| (&label.place, Some(label.text.as_str())));
    let mut marks: Vec<(&PlaceJson, Option<&str>)> = vec![(first, None)];
    marks.extend(labels);
    let number = |place: &PlaceJson| {
        if place.file == first.file {
            format!("line {}", place.line)
        } else {
            format!("{} line {}", shown(place.file.as_ref()), place.line)
        }
    };
    let widest = marks
        .iter()
        .map(|mark| number(mark.0).width())
        .max()
        .unwrap_or(0);
    let room = page.quoted().saturating_sub(INDENT.len() + widest + 2);
    let severity = style(found.severity);
    let mut quoted: Vec<(&str, usize)> = Vec::new();
    for (place, _) in &marks {
        let line = (place.file.as_str(), place.line);
        if quoted.contains(&line) {
            continue;
        }
        quoted.push(line);
        let cut = Cut::of(&place.quote, room);
        let number = number(place);
        text.add_in(
            DIM,
            &format!("{INDENT}{number}{:1$}", "", widest - number.width() + 2),
        );
        text.add(&cut.before);
        text.add_in(severity.underline(), &cut.place);
        text.add(&cut.after);
        text.add("\n");
        let here = marks
            .iter()
            .filter(|mark| (mark.0.file.as_str(), mark.0.line) == line);
        for (place, label) in here {
            let words = quote::place(&place.quote, room / 2);
            let needless = label.is_none() && (page.colours || cut.is_all_place());
            if needless || words.is_empty() && label.is_none() {
                continue;
            }
            let mut mark = Styled::from(one_line(label.unwrap_or("here")).as_str());
            if !words.is_empty() {
                mark.add(": ");
                mark.add_in(BOLD, &words);
            }
            let indent = " ".repeat(INDENT.len() + widest + 2);
            add_line(text, &mark.wrapped(page.text(), &indent, &indent));
        }
    }
}

fn remedy(text: &mut Styled, label: &str, fix: Option<&str>, page: Page) {
    let Some(fix) = fix else {
        return;
    };
    let mut line = Styled::default();
    line.add_in(REMEDY, label);
    line.add(&format!(" {}", one_line(fix)));
    add_line(text, &line.wrapped(page.text(), INDENT, FURTHER));
}

fn add_line(text: &mut Styled, line: &Styled) {
    text.append(line);
    text.add("\n");
}

fn one_line(words: &str) -> String {
    words.replace('\n', " ")
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}

fn style(severity: Severity) -> Style {
    match severity {
        Severity::Error => AnsiColor::Magenta.on_default().bold(),
        Severity::Warning => AnsiColor::Cyan.on_default().bold(),
        Severity::Note => BOLD,
    }
}

#[cfg(test)]
mod tests {
    use jigless_core::diag::{Finding, Findings};
    use jigless_core::source::{FileId, Sources, Span};

    use super::*;
    use crate::codes;
    use crate::furniture::Furniture;

    fn reported(sources: &Sources, findings: Findings, page: Page) -> String {
        let mut furniture = Furniture::of(sources);
        let list = findings.sorted();
        let messages: Vec<Message> = list
            .iter()
            .map(|finding| Message::of_finding(sources, &mut furniture, finding))
            .collect();
        anstream::adapter::strip_str(words(&messages, page).as_str()).to_string()
    }

    fn span(sources: &Sources, file: FileId, word: &str) -> Span {
        let start = sources.file(file).text.find(word).unwrap() as u32;
        Span {
            file,
            start,
            end: start + word.len() as u32,
        }
    }

    fn example() -> (Sources, Findings) {
        let mut sources = Sources::default();
        let file = sources.add(
            "shelf/plan.yaml",
            "jigless: 1\nunits: mm\nparts:\n  é:\n    features: [{pin_rows: {widht: 5}}]\nend: 1",
        );
        let other = sources.add("shelf/tray.yaml", "a: 1\nwidth: 7");
        let finding = Finding::error(
            jigless_core::check::codes::UNKNOWN_KEY,
            span(&sources, file, "widht"),
            "no key `widht`\u{1b}[2J",
        )
        .figures("2 mm", "at least 6 mm")
        .fix("did you mean `width`?")
        .label(span(&sources, other, "width"), "set here");
        (sources, finding.into())
    }

    #[test]
    fn a_finding_shows_its_place_and_what_to_do() {
        let (sources, findings) = example();
        let expected = "\
shelf/plan.yaml:5:28: error: no key `widht`<U+001B>[2J (unknown-key)
  é > pin rows > widht
  measured: 2 mm    wanted: at least 6 mm
  line 5                  features: [{pin_rows: {widht: 5}}]
                          here: widht
  shelf/tray.yaml line 2  width: 7
                          set here: width
  To mend: did you mean `width`?

";
        assert_eq!(reported(&sources, findings, Page::default()), expected);
    }

    #[test]
    fn on_a_terminal_lines_are_broken_and_colours_mark_the_words() {
        let (sources, findings) = example();
        let page = Page {
            columns: Some(50),
            colours: true,
        };
        let text = reported(&sources, findings, page);
        assert!(text.lines().all(|line| line.width() <= 50), "{text}");
        assert!(
            !text.contains("here: widht\n") || text.contains("set here"),
            "{text}"
        );
        assert!(
            !text.lines().any(|line| line.trim() == "here: widht"),
            "{text}"
        );
    }

    #[test]
    fn places_beyond_the_text_and_empty_texts_do_no_harm() {
        let mut sources = Sources::default();
        for text in ["", "é", "a\r\nb", "\n\n"] {
            let file = sources.add("plan.yaml", text);
            for start in 0..6 {
                for end in 0..6 {
                    let span = Span { file, start, end };
                    let finding = Finding::error(codes::NO_COMMAND, span, "m");
                    let text = reported(&sources, finding.into(), Page::default());
                    assert!(text.starts_with("plan.yaml:"), "{text}");
                }
            }
        }
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
        let text = reported(&sources, list, Page::default());
        assert!(text.contains(": error: wrong (bad-command)"), "{text}");
        assert!(text.starts_with("plan.yaml:181:1: error"), "{text}");
        assert!(text.ends_with("and 101 further findings not shown\n\n"));
    }
}
