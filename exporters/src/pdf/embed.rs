//! The embedded typeface, cut down to the letters that a document uses.

use std::collections::BTreeMap;

use printpdf::{ParsedFont, PdfFont};
use subsetter::GlyphRemapper;

use crate::drawing::font;

/// `DejaVu` Sans with just the letters of some texts, a few kilobytes in place of 750, and the number in it of each
/// letter, sorted by letter.
pub(super) fn subset(texts: &[&str]) -> Result<(PdfFont, Vec<(char, u16)>), String> {
    let whole = font::embedded().ok_or("the embedded typeface cannot be read")?;
    let mut letters: Vec<char> = texts.iter().flat_map(|text| text.chars()).collect();
    letters.sort_unstable();
    letters.dedup();

    let mut remapper = GlyphRemapper::new();
    let mut codepoint_to_glyph = BTreeMap::new();
    let mut glyphs = Vec::with_capacity(letters.len());
    let mut glyph_widths = BTreeMap::new();
    for letter in letters {
        let Some(glyph) = font::embedded_glyph(letter) else {
            continue;
        };
        let new = remapper.remap(glyph);
        codepoint_to_glyph.insert(u32::from(letter), new);
        glyphs.push((letter, new));
        let width = whole.glyph_widths.get(&glyph).copied().unwrap_or(0);
        glyph_widths.insert(new, width);
    }
    let bytes = subsetter::subset(dejavu::sans::regular(), 0, &remapper)
        .map_err(|error| format!("the embedded typeface cannot be cut down: {error}"))?;
    let font = PdfFont::new(ParsedFont {
        original_bytes: bytes,
        // The tag of a font subset (ISO 32000-1, 9.6.4). One document has one subset, so one tag does.
        font_name: Some("JIGLES+DejaVuSans".to_owned()),
        codepoint_to_glyph,
        glyph_widths,
        ..whole.clone()
    });
    Ok((font, glyphs))
}
