//! Text in HTML and XML.

/// Text that stays text in HTML and XML, in attributes too. Marks that turn the direction of what follows, and controls,
/// are left out: a title cannot turn the page around it.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {}
            other if other.is_control() => out.push(' '),
            other => out.push(other),
        }
    }
    out
}

/// A path below a folder as an address: every byte that is no letter, digit or one of `-._~/` is written by its number
/// (RFC 3986).
pub(super) fn address(path: &str) -> String {
    let mut out = String::with_capacity(path.len());
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            out.push(byte as char);
        } else {
            out.push_str(&format!("%{byte:02X}"));
        }
    }
    out
}

/// A number of bytes as people say it.
pub(super) fn bytes(count: u64) -> String {
    match count {
        0..1_000 => format!("{count} bytes"),
        1_000..1_000_000 => format!("{} kB", count.div_ceil(1_000)),
        _ => format!("{:.1} MB", count as f64 / 1e6),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_stays_text() {
        assert_eq!(
            escaped("<script>'\"&\u{202e}x</script>"),
            "&lt;script&gt;&#39;&quot;&amp;x&lt;/script&gt;"
        );
        assert_eq!(address("a b/ü#?.svg"), "a%20b/%C3%BC%23%3F.svg");
        assert_eq!(
            [bytes(999), bytes(1_001), bytes(2_000_000)],
            ["999 bytes", "2 kB", "2.0 MB"]
        );
    }
}
