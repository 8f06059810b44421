//! Groups of a file: a code and a value, a line each (DXF Reference, About Group Codes).
//!
//! Reals make up most of a file, so they are not left to the formatter, which takes many times as long for them.

use std::fmt;
use std::io::Write;

use jigless_model::units::Decimal;

/// Decimals of a length in millimetres or inches.
const LENGTH_DECIMALS: usize = 9;

/// Decimals of a bulge. The middle of an arc across a whole sheet then keeps to less than 1e-8 mm.
const BULGE_DECIMALS: usize = 12;

/// A run of groups that is being written.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Groups {
    bytes: Vec<u8>,
}

impl Groups {
    /// An empty run with room for so many bytes.
    pub(super) fn with_room(bytes: usize) -> Self {
        Self {
            bytes: Vec::with_capacity(bytes),
        }
    }

    /// What is written.
    pub(super) fn into_bytes(self) -> Vec<u8> {
        self.bytes
    }

    /// What is written so far.
    pub(super) fn as_bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// Writes whole groups, or what a value begins or ends with, as it stands.
    pub(super) fn raw(&mut self, bytes: &[u8]) {
        self.bytes.extend_from_slice(bytes);
    }

    /// Writes a code. They are right-aligned in three places by habit of the format.
    #[inline]
    pub(super) fn code(&mut self, code: u16) {
        let digit = |place: u16| match code / place % 10 {
            0 if code < place && place > 1 => b' ',
            digit => b'0' + digit as u8,
        };
        self.bytes
            .extend_from_slice(&[digit(100), digit(10), digit(1), b'\r', b'\n']);
    }

    /// Ends a value.
    #[inline]
    pub(super) fn end(&mut self) {
        self.bytes.extend_from_slice(b"\r\n");
    }

    /// A text without any letter that needs another form.
    #[inline]
    pub(super) fn text(&mut self, code: u16, value: &str) {
        self.code(code);
        self.raw(value.as_bytes());
        self.end();
    }

    /// A length in the unit of the file, to the nearest 1e-9 of it, which turns the last digit's noise about 0 into 0.
    #[inline]
    pub(super) fn length(&mut self, code: u16, length: f64) {
        self.code(code);
        self.bare_length(length);
        self.end();
    }

    /// A length in the unit of the file, without its code and end.
    pub(super) fn bare_length(&mut self, length: f64) {
        put_real(&mut self.bytes, length, LENGTH_DECIMALS);
    }

    /// The tangent of a quarter of an arc's angle; nothing for a straight line, which is the default (DXF Reference,
    /// VERTEX and LWPOLYLINE, 42).
    pub(super) fn bulge(&mut self, bulge: f64) {
        if bulge != 0.0 {
            self.code(42);
            put_real(&mut self.bytes, bulge, BULGE_DECIMALS);
            self.end();
        }
    }

    /// A 16-bit number, right-aligned in six places by habit of the format.
    #[inline]
    pub(super) fn short(&mut self, code: u16, value: i16) {
        self.code(code);
        self.write(format_args!("{value:>6}"));
        self.end();
    }

    /// A 32-bit number, right-aligned in nine places by habit of the format.
    #[inline]
    pub(super) fn long(&mut self, code: u16, value: usize) {
        self.code(code);
        self.write(format_args!("{value:>9}"));
        self.end();
    }

    /// A whole number without its code and end, right-aligned in at most 20 places.
    pub(super) fn bare_whole(&mut self, value: usize, places: usize) {
        self.write(format_args!("{value:>places$}"));
    }

    /// A handle.
    pub(super) fn handle(&mut self, code: u16, handle: u64) {
        self.code(code);
        self.bare_handle(handle);
        self.end();
    }

    /// A handle without its code and end: hexadecimal, without leading zeros.
    pub(super) fn bare_handle(&mut self, handle: u64) {
        self.write(format_args!("{handle:X}"));
    }

    fn write(&mut self, text: fmt::Arguments) {
        // Writing to bytes in memory cannot fail.
        let _ = self.bytes.write_fmt(text);
    }

    /// A text of any letters of which none is a control character. `^` begins a control character, so it has a space
    /// after it. What the file's code page shares with Unicode is written in it where the file has one, since some
    /// readers show `\U+00E9` as it stands; all else beyond ASCII has that form (DXF Reference, string group codes).
    pub(super) fn letters(&mut self, code: u16, value: &str, page_1252: bool) {
        self.code(code);
        if value.bytes().all(|b| b.is_ascii() && b != b'^') {
            self.raw(value.as_bytes());
        } else {
            for c in value.chars() {
                match u32::from(c) {
                    0x5E => self.raw(b"^ "),
                    ascii @ 0..=0x7F => self.bytes.push(ascii as u8),
                    shared @ 0xA0..=0xFF if page_1252 => self.bytes.push(shared as u8),
                    other => self.raw(format!("\\U+{other:04X}").as_bytes()),
                }
            }
        }
        self.end();
    }
}

/// Writes a real with at most so many decimals, without needless zeros but with a point and a digit after it.
fn put_real(bytes: &mut Vec<u8>, value: f64, decimals: usize) {
    let text = Decimal::new(value, decimals);
    bytes.extend_from_slice(text.as_bytes());
    if !text.as_bytes().contains(&b'.') {
        bytes.extend_from_slice(b".0");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn real(value: f64, decimals: usize) -> String {
        let mut bytes = Vec::new();
        put_real(&mut bytes, value, decimals);
        String::from_utf8(bytes).unwrap()
    }

    #[test]
    fn reals_are_short_and_have_a_point() {
        for (value, text) in [
            (0.0, "0.0"),
            (-0.0, "0.0"),
            (-1e-12, "0.0"),
            (0.1 + 0.2, "0.3"),
            (-161.2, "-161.2"),
            (49.133_333_333_333, "49.133333333"),
            (0.000_000_001, "0.000000001"),
            (-0.05, "-0.05"),
            (10.000_000_01, "10.00000001"),
            (1250.0, "1250.0"),
            (9_007_199.0, "9007199.0"),
            (1e22, "10000000000000000000000.0"),
            (-12_345_678.5, "-12345678.5"),
        ] {
            assert_eq!(real(value, 9), text);
        }
        assert_eq!(real(2_f64.sqrt() - 1.0, 12), "0.414213562373");
    }

    /// What the standard library's formatter makes of a real, without needless zeros.
    fn expected(value: f64, decimals: usize) -> String {
        let text = format!("{value:.decimals$}");
        let text = text.trim_end_matches('0');
        let text = if text.ends_with('.') {
            format!("{text}0")
        } else {
            text.to_owned()
        };
        if text == "-0.0" {
            "0.0".to_owned()
        } else {
            text
        }
    }

    proptest! {
        /// A whole number of units is written as the standard formatter writes it.
        #[test]
        fn rounded_lengths_are_written_exactly(units in -4_000_000_000_000_i64..4_000_000_000_000) {
            let value = units as f64 / 1e9;
            prop_assert_eq!(real(value, 9), expected(value, 9));
        }

        /// Any other number comes back to within half a unit and what its own last bit is worth.
        #[test]
        fn any_length_comes_back(value in prop_oneof![-1e4..1e4, -1e8..1e8, -1e300..1e300, -1e-6..1e-6]) {
            let text = real(value, 9);
            let back: f64 = text.parse().unwrap();
            prop_assert!((back - value).abs() <= 0.500_001e-9 + value.abs() * f64::EPSILON, "{} {}", value, text);
            prop_assert!(text.contains('.') && !text.ends_with('.') && text != "-0.0");
        }

        #[test]
        fn bulges_come_back(value in -2.0..2.0) {
            let back: f64 = real(value, 12).parse().unwrap();
            prop_assert!((back - value).abs() <= 0.501e-12);
        }

        #[test]
        fn handles_and_whole_numbers_are_as_the_standard_formatter_has_them(handle: u64, short: i16, long in 0..1_000_000_usize) {
            let mut groups = Groups::default();
            groups.handle(5, handle);
            groups.short(70, short);
            groups.long(90, long);
            let text = String::from_utf8(groups.into_bytes()).unwrap();
            prop_assert_eq!(text, format!("  5\r\n{handle:X}\r\n 70\r\n{short:>6}\r\n 90\r\n{long:>9}\r\n"));
        }
    }

    #[test]
    fn codes_are_three_places_wide() {
        for code in [0, 5, 10, 62, 100, 105, 330] {
            let mut groups = Groups::default();
            groups.text(code, "x");
            let text = String::from_utf8(groups.into_bytes()).unwrap();
            assert_eq!(text, format!("{code:>3}\r\nx\r\n"));
        }
    }

    /// DXF Reference: the code page of $DWGCODEPAGE `ANSI_1252`, and `\U+nnnn` for all else.
    #[test]
    fn letters_beyond_ascii_have_a_form_of_their_own() {
        let written = |page| {
            let mut groups = Groups::default();
            groups.letters(1, "2^3 Fächer Ж €", page);
            groups.into_bytes()
        };
        assert_eq!(
            written(true),
            b"  1\r\n2^ 3 F\xE4cher \\U+0416 \\U+20AC\r\n"
        );
        assert_eq!(
            written(false),
            b"  1\r\n2^ 3 F\\U+00E4cher \\U+0416 \\U+20AC\r\n"
        );
    }
}
