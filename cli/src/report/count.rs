//! Counts in words.

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

    #[test]
    fn counts_are_put_in_words() {
        assert_eq!(tally(0, 0), None);
        assert_eq!(tally(1, 0).unwrap(), "1 error");
        assert_eq!(tally(2, 1).unwrap(), "2 errors, 1 warning");
    }
}
