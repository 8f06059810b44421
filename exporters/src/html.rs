//! Words in a page: whatever an author writes stays words.

/// Words between elements or in an attribute.
pub fn escaped(words: &str) -> String {
    let mut text = String::with_capacity(words.len());
    for letter in words.chars() {
        match letter {
            '&' => text.push_str("&amp;"),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            '"' => text.push_str("&quot;"),
            '\'' => text.push_str("&#39;"),
            turning if turns(turning) => {}
            other if other.is_control() => text.push(' '),
            other => text.push(other),
        }
    }
    text
}

/// Whether a letter is a mark that turns the direction of all that follows it.
pub(crate) fn turns(letter: char) -> bool {
    matches!(letter, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}')
}

#[cfg(test)]
mod tests {
    use super::escaped;

    #[test]
    fn no_words_are_markup() {
        assert_eq!(
            escaped("<script>\"x\" & 'y'\u{202e}</script>"),
            "&lt;script&gt;&quot;x&quot; &amp; &#39;y&#39;&lt;/script&gt;"
        );
    }
}
