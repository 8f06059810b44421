//! The words of a line: letters and their numbers.

use crate::fault::{Fault, FaultKind};

/// A letter and its number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Word {
    /// In upper case.
    pub(crate) letter: char,
    /// Its number.
    pub(crate) number: f64,
}

/// Reads the words of a line (NIST IR 6556, 3.3): comments in parentheses or after a semicolon are passed over, blanks
/// count for nothing, letters may be small.
pub(crate) fn of(line: usize, text: &str) -> Result<Vec<Word>, Fault> {
    let wrong = |what: String| Fault::new(line, FaultKind::Unreadable, what);
    let mut bare = String::new();
    let mut in_comment = false;
    for c in text.chars() {
        match (in_comment, c) {
            (false, ';') => break,
            (false, '(') => in_comment = true,
            (true, '(') => return Err(wrong("a comment in a comment".to_owned())),
            (true, ')') => in_comment = false,
            (true, _) => {}
            (false, c) if c.is_whitespace() => {}
            (false, c) => bare.push(c.to_ascii_uppercase()),
        }
    }
    if in_comment {
        return Err(wrong("a comment that does not end".to_owned()));
    }
    if bare == "%" {
        return Ok(Vec::new());
    }
    let mut words = Vec::new();
    let mut rest = bare.as_str();
    while let Some(letter) = rest.chars().next() {
        if !letter.is_ascii_uppercase() {
            return Err(wrong(format!("`{letter}` is no word")));
        }
        rest = &rest[1..];
        let end = rest
            .find(|c: char| !(c.is_ascii_digit() || "+-.".contains(c)))
            .unwrap_or(rest.len());
        let number: f64 = rest[..end]
            .parse()
            .map_err(|_| wrong(format!("`{letter}{}` has no number", &rest[..end])))?;
        if !number.is_finite() || number.abs() > 1e7 {
            return Err(wrong(format!("`{letter}{}` is too large", &rest[..end])));
        }
        words.push(Word { letter, number });
        rest = &rest[end..];
    }
    Ok(words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_comments_and_faults() {
        let read = |text: &str| -> Vec<(char, f64)> {
            let words = of(1, text).unwrap();
            words.into_iter().map(|w| (w.letter, w.number)).collect()
        };
        assert_eq!(
            read("n10 g1 x-1.5 (a comment) Y .25 ; more"),
            [('N', 10.0), ('G', 1.0), ('X', -1.5), ('Y', 0.25)]
        );
        assert_eq!(read("%"), []);
        for text in ["X", "G1 (open", "5X", "X1.2.3", "#1=2"] {
            assert_eq!(of(7, text).unwrap_err().line, 7, "{text}");
        }
    }
}
