//! A line of a plan on a page: cut to its width, with the place in sight.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use crate::message::Quote;
use crate::styled::visible;

/// What stands for what is cut off; it is one column wide.
const CUT: &str = "…";
/// How much is shown behind a place before anything in front of it is given up, in columns.
const BEHIND: usize = 10;
/// What a tab becomes.
const TAB: &str = "    ";

/// A quoted line in three pieces.
#[derive(Debug, PartialEq, Eq)]
pub struct Cut {
    /// What is before the place.
    pub before: String,
    /// The place itself.
    pub place: String,
    /// What is after it.
    pub after: String,
}

impl Cut {
    /// A quote as it fits into so many columns. The indent of the line is left out, unless the place is in it.
    pub fn of(quote: &Quote, columns: usize) -> Self {
        let line = &quote.line;
        let indent = line.len() - line.trim_start().len();
        let skip = if quote.cut_before {
            0
        } else {
            indent.min(quote.place.start)
        };
        let mut before = plain(&line[skip..quote.place.start]);
        let mut place = plain(&line[quote.place.clone()]);
        let mut after = plain(&line[quote.place.end..]);
        let columns = columns.max(2 * BEHIND);
        let (more_before, more_after) = (quote.cut_before, quote.cut_after);
        if before.width() + place.width() + after.width() > columns || more_before || more_after {
            place = head(&place, columns - 2, false);
            let rest = columns - place.width();
            let behind = after.width().min(BEHIND).min(rest);
            before = tail(&before, rest - behind, more_before);
            after = head(&after, columns - place.width() - before.width(), more_after);
        }
        Self {
            before,
            place,
            after,
        }
    }

    /// Whether the place is all that is quoted.
    pub fn is_all_place(&self) -> bool {
        self.before.is_empty() && self.after.is_empty()
    }
}

/// The place alone, cut to so many columns.
pub fn place(quote: &Quote, columns: usize) -> String {
    head(&plain(&quote.line[quote.place.clone()]), columns, false)
}

fn plain(text: &str) -> String {
    visible(&text.replace('\t', TAB))
}

/// The beginning of a text that is too wide, or that goes on anyway.
fn head(text: &str, columns: usize, goes_on: bool) -> String {
    if text.width() <= columns && !goes_on {
        return text.to_owned();
    }
    let mut room = columns.saturating_sub(CUT.width());
    let fits = text.chars().take_while(|c| take(*c, &mut room));
    fits.collect::<String>() + CUT
}

/// The end of a text that is too wide, or that began before.
fn tail(text: &str, columns: usize, began_before: bool) -> String {
    if text.width() <= columns && !began_before {
        return text.to_owned();
    }
    let mut room = columns.saturating_sub(CUT.width());
    let fits: Vec<char> = text
        .chars()
        .rev()
        .take_while(|c| take(*c, &mut room))
        .collect();
    CUT.to_owned() + &fits.into_iter().rev().collect::<String>()
}

fn take(c: char, room: &mut usize) -> bool {
    let width = c.width().unwrap_or(0);
    let fits = width <= *room;
    *room = room.saturating_sub(width);
    fits
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(line: &str, word: &str, columns: usize) -> [String; 3] {
        let start = line.find(word).unwrap();
        let quote = Quote {
            line: line.to_owned(),
            place: start..start + word.len(),
            ..Quote::default()
        };
        let Cut {
            before,
            place,
            after,
        } = Cut::of(&quote, columns);
        assert!(before.width() + place.width() + after.width() <= columns.max(2 * BEHIND));
        [before, place, after]
    }

    #[test]
    fn a_short_line_is_whole_and_a_long_one_shows_its_place() {
        assert_eq!(cut("    a: {b: 1}", "b", 60), ["a: {", "b", ": 1}"]);
        assert_eq!(cut("\ta:\t1", "1", 60), ["a:    ", "1", ""]);
        assert_eq!(cut("   ", "   ", 60), ["", "   ", ""]);
        let long = format!("{} PLACE {}", "x".repeat(90), "y".repeat(90));
        let [before, place, after] = cut(&long, "PLACE", 60);
        assert_eq!(place, "PLACE");
        assert!(
            before.starts_with("…xxx") && before.ends_with("x "),
            "{before}"
        );
        assert!(
            after.starts_with(" yyy") && after.ends_with("y…"),
            "{after}"
        );
        let [before, _, after] = cut(&format!("a: PLACE {}", "y".repeat(90)), "PLACE", 60);
        assert_eq!((before.as_str(), after.width()), ("a: ", 52));
        let [before, place, after] = cut(&long, &"x".repeat(90), 60);
        assert_eq!((before.as_str(), place.width()), ("", 58));
        assert_eq!(after, " …");
    }

    #[test]
    fn wide_characters_take_two_columns() {
        let [before, place, after] = cut(
            &format!("{}: {}", "板".repeat(40), "架".repeat(40)),
            ": ",
            41,
        );
        assert_eq!(place, ": ");
        assert!(before.width() <= 30 && after.width() <= 30);
    }
}
