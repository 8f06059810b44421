//! Counts in words.

use std::fmt::Write;

/// `2 errors, 1 warning`, and how many of them are not listed; nothing where there are neither.
pub fn tally(errors: usize, warnings: usize, not_listed: usize) -> Option<String> {
    let words: Vec<String> = [(errors, "error"), (warnings, "warning")]
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| counted(count, word))
        .collect();
    let mut words = (!words.is_empty()).then(|| words.join(", "))?;
    if not_listed > 0 {
        // Writing to a String cannot fail.
        let _ = write!(words, " ({not_listed} of them not listed)");
    }
    Some(words)
}

/// `1 part`, `2 parts`.
pub fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_are_put_in_words() {
        assert_eq!(tally(0, 0, 0), None);
        assert_eq!(tally(1, 0, 0).unwrap(), "1 error");
        assert_eq!(tally(2, 1, 0).unwrap(), "2 errors, 1 warning");
        assert_eq!(
            tally(1200, 0, 200).unwrap(),
            "1200 errors (200 of them not listed)"
        );
    }
}
