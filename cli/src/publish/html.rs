//! Addresses and numbers on the pages of a site.

use std::fmt::Write;

/// A path below a folder as an address: every byte that is no letter, digit or one of `-._~/` is written by its number
/// (RFC 3986).
pub(super) fn address(path: &str) -> String {
    let mut out = String::with_capacity(path.len());
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            out.push(byte as char);
        } else {
            // Writing to a String cannot fail.
            let _ = write!(out, "%{byte:02X}");
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
    fn addresses_and_sizes_are_written_as_they_are_read() {
        assert_eq!(address("a b/ü#?.svg"), "a%20b/%C3%BC%23%3F.svg");
        assert_eq!(
            [bytes(999), bytes(1_001), bytes(2_000_000)],
            ["999 bytes", "2 kB", "2.0 MB"]
        );
    }
}
