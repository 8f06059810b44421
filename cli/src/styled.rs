//! Text for a terminal. Words from files, folders and other programs cannot steer it: what would is shown instead.

use std::fmt::{self, Write};
use std::path::Path;

use anstyle::Style;

/// Text with styles of our own. Styles are always written; what prints the text takes them out where they do not belong.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Styled(String);

impl Styled {
    /// A text of the program itself, which has its styles already. Nothing from outside may be in it.
    pub fn own(text: String) -> Self {
        Self(text)
    }

    /// Adds words.
    pub fn add(&mut self, words: &str) {
        self.0.push_str(&visible(words));
    }

    /// Adds words in a style.
    pub fn add_in(&mut self, style: Style, words: &str) {
        // Writing to a String cannot fail.
        let _ = write!(self.0, "{style}{}{style:#}", visible(words));
    }

    /// Adds other text.
    pub fn append(&mut self, other: &Styled) {
        self.0.push_str(&other.0);
    }

    /// Adds words on lines of their own of so many columns, each with an indent.
    pub fn add_paragraph(&mut self, indent: &str, words: &str, columns: usize) {
        let words: Vec<&str> = words.split_whitespace().collect();
        let words = Self::from(words.join(" ").as_str());
        self.append(&words.wrapped(Some(columns), indent, indent));
        self.add("\n");
    }

    /// The text with its styles, ready to be printed.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The text in lines of so many columns, broken between words; further lines are indented. A path or name that is
    /// longer than a line stays whole, so that it can be copied.
    #[must_use]
    pub fn wrapped(&self, columns: Option<usize>, first: &str, further: &str) -> Self {
        let Some(columns) = columns else {
            return Self(format!("{first}{}", self.0));
        };
        let options = textwrap::Options::new(columns)
            .break_words(false)
            .word_separator(textwrap::WordSeparator::AsciiSpace)
            .word_splitter(textwrap::WordSplitter::NoHyphenation)
            .wrap_algorithm(textwrap::WrapAlgorithm::FirstFit)
            .initial_indent(first)
            .subsequent_indent(further);
        Self(textwrap::fill(&self.0, options))
    }
}

impl From<&str> for Styled {
    fn from(words: &str) -> Self {
        let mut text = Self::default();
        text.add(words);
        text
    }
}

impl fmt::Display for Styled {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Whether a terminal obeys a character instead of showing it: controls of C0 and C1, DEL, and those that turn the
/// direction of writing (Unicode's property `Bidi_Control`).
pub fn steers(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// A text in which what steers a terminal is shown as `<U+001B>`. Line breaks stay.
pub fn visible(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        if c != '\n' && steers(c) {
            // Writing to a String cannot fail.
            let _ = write!(shown, "<U+{:04X}>", u32::from(c));
        } else {
            shown.push(c);
        }
    }
    shown
}

/// A path for people, on one line whatever its names hold.
pub fn shown(path: &Path) -> String {
    visible(&path.display().to_string()).replace('\n', "<U+000A>")
}

/// JSON in which what steers a terminal is written as `\u001b`, so that the same value can be printed anywhere. Such
/// characters stand in its texts only.
pub fn visible_json(json: &str) -> String {
    let mut shown = String::with_capacity(json.len());
    for c in json.chars() {
        if c != '\n' && steers(c) {
            // Writing to a String cannot fail. All that steers is in the first plane.
            let _ = write!(shown, "\\u{:04x}", u32::from(c));
        } else {
            shown.push(c);
        }
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_steers_a_terminal_is_shown() {
        assert_eq!(visible("a\u{1b}[2Jb\nc"), "a<U+001B>[2Jb\nc");
        assert_eq!(
            visible("\u{7f}\u{9b}\u{202e}\u{2066}\u{200f}\t"),
            "<U+007F><U+009B><U+202E><U+2066><U+200F><U+0009>"
        );
        assert_eq!(visible("Größe 3/4″ 板"), "Größe 3/4″ 板");
        assert_eq!(shown(Path::new("a\nb")), "a<U+000A>b");
        let value = "a\u{9b}\u{202e}\u{7f}";
        let json = visible_json(&serde_json::to_string(value).unwrap());
        assert!(json.is_ascii());
        assert_eq!(serde_json::from_str::<String>(&json).unwrap(), value);
    }

    #[test]
    fn lines_are_broken_between_words_and_styles_take_no_room() {
        let bold = Style::new().bold();
        let mut text = Styled::default();
        for _ in 0..10 {
            text.add_in(bold, "abcd");
            text.add(" ");
        }
        let lines =
            anstream::adapter::strip_str(text.wrapped(Some(22), "", "  ").as_str()).to_string();
        assert_eq!(
            lines.lines().map(str::trim_end).collect::<Vec<_>>(),
            [
                "abcd abcd abcd abcd",
                "  abcd abcd abcd abcd",
                "  abcd abcd"
            ]
        );
        let path = "shelves/of/the/studio/that/have/long/names.yaml";
        assert!(
            Styled::from(path)
                .wrapped(Some(20), "", "")
                .as_str()
                .contains(path)
        );
    }
}
