//! Markdown as text for a terminal: wrapped, headings in bold, tables in columns.

use std::fmt::Write as _;

use anstyle::Style;
use comfy_table::{ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle};
use pulldown_cmark::{Event, HeadingLevel, Options, Parser, Tag, TagEnd};
use textwrap::{WordSplitter, wrap};

/// Headings, and what is strong.
pub const BOLD: Style = Style::new().bold();

/// The width where nobody knows a better one.
const USUAL_WIDTH: usize = 80;
/// Longer lines of prose are hard to read; tables use all the width there is.
const WIDEST_PROSE: usize = 100;
/// Narrower than this nothing is laid out.
const LEAST_WIDTH: usize = 30;
/// What stands before everything but headings.
const INDENT: usize = 2;

/// A table's head is ruled off, and nothing else.
const RULED: TableStyle =
    TableStyle::new().header_separator(LineStyle::none().fill('-').junction('-'));

/// Columns of the terminal that standard output goes to, or the usual number.
pub fn terminal_width() -> usize {
    terminal_size::terminal_size().map_or(USUAL_WIDTH, |(width, _)| usize::from(width.0))
}

/// Words broken into lines, the first one behind `first` and the others behind `rest`.
pub fn wrapped(words: &str, first: &str, rest: &str, width: usize) -> String {
    let width = width.clamp(LEAST_WIDTH, WIDEST_PROSE);
    let options = textwrap::Options::new(width)
        .initial_indent(first)
        .subsequent_indent(rest)
        .word_splitter(WordSplitter::NoHyphenation);
    let mut text = wrap(words, options).join("\n");
    text.push('\n');
    text
}

/// A page as text. `link` gives what is written in brackets behind the text of a link.
pub fn to_terminal(page: &str, width: usize, link: &dyn Fn(&str) -> Option<String>) -> String {
    let mut writer = Writer {
        width: width.max(LEAST_WIDTH),
        link,
        out: String::new(),
        words: String::new(),
        targets: Vec::new(),
        lists: Vec::new(),
        bullet: None,
        code: false,
        rows: Vec::new(),
    };
    for event in Parser::new_ext(page, Options::ENABLE_TABLES) {
        writer.take(event);
    }
    writer.out.trim_end().to_owned() + "\n"
}

/// Turns events of the parser into lines.
struct Writer<'a> {
    width: usize,
    link: &'a dyn Fn(&str) -> Option<String>,
    out: String,
    /// The words of the block that is being read.
    words: String,
    /// Targets of the links that are open.
    targets: Vec<String>,
    /// The lists that are open; of a numbered one, the next number.
    lists: Vec<Option<u64>>,
    /// What stands before the first line of a list's entry.
    bullet: Option<String>,
    code: bool,
    /// The cells of the table that is being read, the first row its head.
    rows: Vec<Vec<String>>,
}

impl Writer<'_> {
    fn take(&mut self, event: Event) {
        match event {
            Event::Start(tag) => self.start(tag),
            Event::End(tag) => self.end(tag),
            Event::Text(text) if self.code => self.code_lines(&text),
            Event::Text(text) => self.words.push_str(&text),
            Event::Code(text) => {
                self.words.push('`');
                self.words.push_str(&text);
                self.words.push('`');
            }
            Event::SoftBreak | Event::HardBreak => self.words.push(' '),
            Event::Rule => self.out.push('\n'),
            // What is for other readers is left out.
            Event::Html(_)
            | Event::InlineHtml(_)
            | Event::InlineMath(_)
            | Event::DisplayMath(_)
            | Event::FootnoteReference(_)
            | Event::TaskListMarker(_) => {}
        }
    }

    fn start(&mut self, tag: Tag) {
        match tag {
            Tag::Heading { .. } | Tag::Strong => self.words.push_str(&BOLD.render().to_string()),
            Tag::Link { dest_url, .. } | Tag::Image { dest_url, .. } => {
                self.targets.push(dest_url.into_string());
            }
            Tag::List(first) => {
                // An entry's own words stand before the list in it.
                self.flush();
                self.lists.push(first);
            }
            Tag::Item => {
                self.bullet = Some(match self.lists.last_mut() {
                    Some(Some(number)) => {
                        *number += 1;
                        format!("{}. ", *number - 1)
                    }
                    _ => "- ".to_owned(),
                });
            }
            Tag::CodeBlock(_) => self.code = true,
            Tag::TableHead | Tag::TableRow => self.rows.push(Vec::new()),
            _ => {}
        }
    }

    fn end(&mut self, tag: TagEnd) {
        match tag {
            TagEnd::Heading(level) => {
                self.words.push_str(&BOLD.render_reset().to_string());
                self.heading(level);
            }
            TagEnd::Strong => self.words.push_str(&BOLD.render_reset().to_string()),
            TagEnd::Link | TagEnd::Image => self.close_link(),
            TagEnd::Paragraph => {
                self.flush();
                self.out.push('\n');
            }
            TagEnd::Item => self.flush(),
            TagEnd::List(_) => {
                self.lists.pop();
                if self.lists.is_empty() {
                    self.out.push('\n');
                }
            }
            TagEnd::CodeBlock => {
                self.code = false;
                self.out.push('\n');
            }
            TagEnd::TableCell => {
                let cell = std::mem::take(&mut self.words);
                if let Some(row) = self.rows.last_mut() {
                    row.push(cell);
                }
            }
            TagEnd::Table => self.table(),
            _ => {}
        }
    }

    fn close_link(&mut self) {
        let target = self.targets.pop().unwrap_or_default();
        if let Some(place) = (self.link)(&target) {
            // Writing to a String cannot fail.
            let _ = write!(self.words, " ({place})");
        }
    }

    fn heading(&mut self, level: HeadingLevel) {
        let indent = if level > HeadingLevel::H2 { " " } else { "" };
        let words = std::mem::take(&mut self.words);
        self.out
            .push_str(&wrapped(&words, indent, indent, self.width));
        self.out.push('\n');
    }

    /// Writes the words that are gathered, behind the bullet if they begin an entry.
    fn flush(&mut self) {
        let words = std::mem::take(&mut self.words);
        if words.is_empty() {
            return;
        }
        let outer = " ".repeat(INDENT + 2 * self.lists.len().saturating_sub(1));
        let bullet = self.bullet.take();
        let inner = match (&bullet, self.lists.last()) {
            (Some(bullet), _) => " ".repeat(bullet.len()),
            (None, Some(_)) => "  ".to_owned(),
            (None, None) => String::new(),
        };
        let first = bullet.unwrap_or_else(|| inner.clone());
        let (first, rest) = (format!("{outer}{first}"), format!("{outer}{inner}"));
        self.out
            .push_str(&wrapped(&words, &first, &rest, self.width));
    }

    /// Lines of code keep their breaks.
    fn code_lines(&mut self, text: &str) {
        for line in text.lines() {
            let line = format!("{}{line}", " ".repeat(INDENT + 2));
            self.out.push_str(line.trim_end());
            self.out.push('\n');
        }
    }

    fn table(&mut self) {
        let mut rows = std::mem::take(&mut self.rows).into_iter();
        let mut table = Table::new();
        table
            .load_style(RULED)
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(u16::try_from(self.width - INDENT).unwrap_or(u16::MAX));
        if let Some(head) = rows.next() {
            table.set_header(head);
        }
        table.add_rows(rows);
        // Keys are copied: they are never broken where the others leave them room.
        if table.column_count() > 1
            && let Some(first) = table.column_mut(0)
        {
            first.set_constraint(ColumnConstraint::ContentWidth);
        }
        for (at, line) in table.trim_fmt().lines().enumerate() {
            let line = if at == 0 {
                format!("{BOLD}{line}{BOLD:#}")
            } else {
                line.to_owned()
            };
            let line = format!("{}{line}", " ".repeat(INDENT - 1));
            self.out.push_str(line.trim_end());
            self.out.push('\n');
        }
        self.out.push('\n');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "# A title\n\nSome *words* with `code` and [a link](there.md).\n\n\
        1. one\n2. two\n   - inner\n\n<!-- not shown -->\n\n\
        | key | what it is |\n|---|---|\n| `a` | first |\n| `b` | a \\| b |\n\n```sh\nrun  this\n```\n";

    #[test]
    fn every_kind_of_block_is_laid_out() {
        let text = to_terminal(PAGE, 40, &|target| Some(format!("see {target}")));
        let plain = anstream::adapter::strip_str(&text).to_string();
        let lines: Vec<&str> = plain.lines().collect();
        assert_eq!(
            lines,
            [
                "A title",
                "",
                "  Some words with `code` and a link (see",
                "  there.md).",
                "",
                "  1. one",
                "  2. two",
                "    - inner",
                "",
                "  key   what it is",
                " ------------------",
                "  `a`   first",
                "  `b`   a | b",
                "",
                "    run  this",
            ]
        );
        assert!(text.starts_with(&BOLD.render().to_string()));
    }

    #[test]
    fn nothing_but_code_is_wider_than_the_terminal() {
        let words = "word ".repeat(50);
        let page =
            format!("# {words}\n\n{words}\n\n- {words}\n\n| a | b |\n|---|---|\n| x | {words} |\n");
        for width in [30, 80, 200] {
            let text = to_terminal(&page, width, &|_| None);
            let plain = anstream::adapter::strip_str(&text).to_string();
            assert!(plain.lines().all(|line| line.len() <= width), "{width}");
            assert_eq!(plain.matches("word").count(), 200);
        }
    }
}
