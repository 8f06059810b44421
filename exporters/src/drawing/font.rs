//! The two typefaces, what they can show and how wide it comes out.
//!
//! Helvetica is one of the faces every PDF reader carries and needs no embedding, but it reaches only the `WinAnsi`
//! characters. A text with any other character is set in `DejaVu` Sans as a whole. A character that neither has is
//! written as its code, `[U+6249]`: never as a question mark, and never as nothing.

use std::sync::OnceLock;

use printpdf::ParsedFont;

use super::book_face::{BookFace, RISE_AND_FALL};
use super::helvetica;

/// A typeface.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Typeface {
    /// Helvetica, which readers carry.
    BuiltIn,
    /// `DejaVu` Sans, which is embedded where it is used.
    Embedded,
}

/// How heavy the letters are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weight {
    /// As usual.
    Regular,
    /// Heavier.
    Bold,
    /// In the typeface of running text.
    Book(BookFace),
}

/// Top of the highest letters above the baseline, in ems: `FontBBox` of the Helvetica metrics is 0.931, `Ascender`
/// 0.718, and readers put the top of a line at 1 + `Descender`.
pub(crate) const ASCENT: f64 = 0.793;
/// Depth of the lowest letters under the baseline, in ems (`Descender` of the Helvetica metrics).
pub(crate) const DESCENT: f64 = 0.207;

/// The same two of `DejaVu` Sans, whose letters are taller: `hhea` ascender 1901 and descender -483 of 2048.
const EMBEDDED: (f64, f64) = (0.928_3, 0.235_9);

/// Top above and depth under the baseline of a text of some weight, in ems.
pub(crate) fn rise_and_fall_in(text: &str, weight: Weight) -> (f64, f64) {
    match weight {
        Weight::Regular | Weight::Bold => rise_and_fall(text),
        Weight::Book(_) => RISE_AND_FALL,
    }
}

/// Top above and depth under the baseline of a text, in ems.
pub(crate) fn rise_and_fall(text: &str) -> (f64, f64) {
    match typeface(text) {
        Typeface::BuiltIn => (ASCENT, DESCENT),
        Typeface::Embedded => EMBEDDED,
    }
}

/// The text as it can be shown: no control characters, one space for any run of white space, codes for characters
/// that no typeface has.
pub(crate) fn showable(text: &str) -> String {
    if is_shown_as_it_is(text) {
        return text.to_owned();
    }
    let mut shown = String::with_capacity(text.len());
    for word in text.split(|c: char| c.is_whitespace() || c.is_control()) {
        if word.is_empty() {
            continue;
        }
        if !shown.is_empty() {
            shown.push(' ');
        }
        for c in word.chars().filter(|c| !is_invisible(*c)) {
            if win_ansi(c).is_some() || embedded_glyph(c).is_some() {
                shown.push(c);
            } else {
                let code = format!("[U+{:04X}]", u32::from(c));
                shown.push_str(&code);
            }
        }
    }
    shown
}

/// Whether a text has only letters that are one byte each and the same in `WinAnsi`, as most texts do.
fn is_printable_ascii(text: &str) -> bool {
    text.bytes().all(|byte| matches!(byte, b' '..=b'~'))
}

/// Whether a text is words of plain ASCII with single spaces between them, as most are.
fn is_shown_as_it_is(text: &str) -> bool {
    let mut before = b' ';
    let words = text.bytes().all(|byte| {
        let fits = matches!(byte, b'!'..=b'~') || (byte == b' ' && before != b' ');
        before = byte;
        fits
    });
    words && before != b' '
}

/// The characters of a text that are written as codes.
pub(crate) fn missing(text: &str) -> Vec<char> {
    let mut missing: Vec<char> = text
        .chars()
        .filter(|c| !c.is_whitespace() && !c.is_control() && !is_invisible(*c))
        .filter(|c| win_ansi(*c).is_none() && embedded_glyph(*c).is_none())
        .collect();
    missing.sort_unstable();
    missing.dedup();
    missing
}

/// The typeface that shows every character of a text.
pub(crate) fn typeface(text: &str) -> Typeface {
    if is_printable_ascii(text) || text.chars().all(|c| win_ansi(c).is_some()) {
        Typeface::BuiltIn
    } else {
        Typeface::Embedded
    }
}

/// Width of a text in ems.
pub(crate) fn width(text: &str, weight: Weight) -> f64 {
    let widths = match weight {
        Weight::Regular => &helvetica::REGULAR,
        Weight::Bold => &helvetica::BOLD,
        Weight::Book(face) => return face.width(text),
    };
    let of_code = |code: u8| u32::from(widths[usize::from(code) - 32]);
    let built_in: Option<u32> = if is_printable_ascii(text) {
        Some(text.bytes().map(of_code).sum())
    } else {
        text.chars().map(|c| win_ansi(c).map(of_code)).sum()
    };
    let thousandths = match built_in {
        Some(sum) => f64::from(sum),
        None => text
            .chars()
            .map(|c| embedded_glyph(c).map_or(0.0, embedded_advance))
            .sum(),
    };
    thousandths / 1000.0
}

/// The `WinAnsi` code of a character (ISO 32000-1, Annex D.2).
pub(crate) fn win_ansi(c: char) -> Option<u8> {
    const FROM_128: [char; 32] = [
        '€', '\0', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\0', 'Ž', '\0', '\0',
        '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\0', 'ž', 'Ÿ',
    ];
    match u32::from(c) {
        code @ (0x20..=0x7e | 0xa0..=0xac | 0xae..=0xff) => u8::try_from(code).ok(),
        0 => None,
        _ => FROM_128
            .iter()
            .position(|&known| known == c)
            .and_then(|index| u8::try_from(128 + index).ok()),
    }
}

/// Characters that ask for no ink of their own and would only upset a line: soft hyphens, joiners, marks of direction.
fn is_invisible(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

/// `DejaVu` Sans as a whole; `None` only if the crate that carries it were damaged.
pub(crate) fn embedded() -> Option<&'static ParsedFont> {
    static FONT: OnceLock<Option<ParsedFont>> = OnceLock::new();
    FONT.get_or_init(|| ParsedFont::from_bytes(dejavu::sans::regular(), 0, &mut Vec::new()))
        .as_ref()
}

/// The glyph of a character in `DejaVu` Sans.
pub(crate) fn embedded_glyph(c: char) -> Option<u16> {
    let glyph = embedded()?.codepoint_to_glyph.get(&u32::from(c))?;
    (*glyph != 0).then_some(*glyph)
}

/// Advance of a glyph of `DejaVu` Sans, in thousandths of the size.
fn embedded_advance(glyph: u16) -> f64 {
    let Some(font) = embedded() else {
        return 0.0;
    };
    let units = font.glyph_widths.get(&glyph).copied().unwrap_or(0);
    f64::from(units) * 1000.0 / f64::from(font.units_per_em.max(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Helvetica AFM: H 722, 1 556, space 278, O with stroke 778.
    #[test]
    fn widths_follow_the_published_metrics() {
        let close = |text: &str, expected: f64| {
            let found = width(text, Weight::Regular);
            assert!((found - expected).abs() < 1e-12, "{text}: {found}");
        };
        close("H1", 1.278);
        close("H1 Ø", 1.278 + 0.278 + 0.778);
        assert!(width("H1", Weight::Bold) >= width("H1", Weight::Regular));
    }

    #[test]
    fn texts_beyond_win_ansi_are_set_in_the_embedded_face() {
        assert_eq!(typeface("Ø35 – ½"), Typeface::BuiltIn);
        assert_eq!(typeface("Дверь"), Typeface::Embedded);
        assert!(width("Дверь", Weight::Regular) > 2.0);
    }

    #[test]
    fn nothing_is_lost_silently() {
        assert_eq!(showable("  a\tb\u{7}c \n"), "a b c");
        assert_eq!(showable("扉 Ж"), "[U+6249] Ж");
        assert_eq!(missing("扉 Ж扉"), ['扉']);
    }
}
