//! The typeface of running text: `DejaVu` Sans Condensed, which is embedded where it is used.

use std::sync::OnceLock;

use ttf_parser::Face;

/// A cut of the typeface of running text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum BookFace {
    /// Upright.
    Regular,
    /// Heavy.
    Bold,
    /// Leaning.
    Oblique,
}

impl BookFace {
    /// Every cut.
    pub(crate) const ALL: [BookFace; 3] = [BookFace::Regular, BookFace::Bold, BookFace::Oblique];

    /// Its file.
    pub(crate) fn bytes(self) -> &'static [u8] {
        match self {
            BookFace::Regular => dejavu::sans_condensed::regular(),
            BookFace::Bold => dejavu::sans_condensed::bold(),
            BookFace::Oblique => dejavu::sans_condensed::oblique(),
        }
    }

    /// Its name in a PDF.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            BookFace::Regular => "DejaVuSansCondensed",
            BookFace::Bold => "DejaVuSansCondensed-Bold",
            BookFace::Oblique => "DejaVuSansCondensed-Oblique",
        }
    }

    /// Its place among all.
    pub(crate) const fn index(self) -> usize {
        match self {
            BookFace::Regular => 0,
            BookFace::Bold => 1,
            BookFace::Oblique => 2,
        }
    }

    /// It as it is read; `None` only if the crate that carries it were damaged.
    pub(crate) fn face(self) -> Option<&'static Face<'static>> {
        static FACES: OnceLock<[Option<Face<'static>>; 3]> = OnceLock::new();
        let faces =
            FACES.get_or_init(|| BookFace::ALL.map(|face| Face::parse(face.bytes(), 0).ok()));
        faces[self.index()].as_ref()
    }

    /// The glyph of a character.
    pub(crate) fn glyph(self, letter: char) -> Option<u16> {
        self.face()?.glyph_index(letter).map(|glyph| glyph.0)
    }

    /// Advance of a glyph, in thousandths of the size.
    pub(crate) fn advance(self, glyph: u16) -> f64 {
        let Some(face) = self.face() else {
            return 0.0;
        };
        let units = face
            .glyph_hor_advance(ttf_parser::GlyphId(glyph))
            .unwrap_or(0);
        f64::from(units) * 1000.0 / f64::from(face.units_per_em().max(1))
    }

    /// Width of a text in ems.
    pub(crate) fn width(self, text: &str) -> f64 {
        let plain = &plain_advances()[self.index()];
        let advance = |letter: char| match plain.get(letter as usize) {
            Some(advance) => *advance,
            None => self.glyph(letter).map_or(0.0, |glyph| self.advance(glyph)),
        };
        text.chars().map(advance).sum::<f64>() / 1000.0
    }
}

/// Advances of the letters of ASCII in each cut, which most texts have and no other.
fn plain_advances() -> &'static [[f64; 128]; 3] {
    static ADVANCES: OnceLock<[[f64; 128]; 3]> = OnceLock::new();
    ADVANCES.get_or_init(|| {
        BookFace::ALL.map(|face| {
            std::array::from_fn(|code| {
                let glyph = face.glyph(code as u8 as char);
                glyph.map_or(0.0, |glyph| face.advance(glyph))
            })
        })
    })
}

/// Top above and depth under the baseline, in ems: `hhea` of the files, 1901 and -483 of 2048.
pub(crate) const RISE_AND_FALL: (f64, f64) = (0.928_3, 0.235_9);

#[cfg(test)]
mod tests {
    use super::BookFace;

    #[test]
    fn it_is_narrower_than_the_wide_one_and_has_its_letters() {
        let wide = crate::drawing::font::width("Дверь", crate::drawing::Weight::Regular);
        let condensed = BookFace::Regular.width("Дверь");
        assert!((condensed / wide - 0.9).abs() < 0.01, "{condensed} {wide}");
        for face in BookFace::ALL {
            assert!(
                "aZ09äöüß×½→Ø"
                    .chars()
                    .all(|c| face.glyph(c).is_some_and(|g| g > 0))
            );
        }
    }
}
