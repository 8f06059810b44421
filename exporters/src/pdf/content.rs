//! What a page draws, as the operators of a content stream (ISO 32000-1, Annex A).
//!
//! Written by our own hand, into one run of bytes: the library that makes the document keeps an object for every
//! operator and number and writes each through the formatter, which took half of the time of a template. It still makes
//! everything around the streams.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, TAU};

use jigless_model::geom::{Arc, Path, Point, Segment};
use jigless_model::units::{Decimal, mm_to_points};

use super::page_format::PageFormat;
use crate::drawing::font::{self, Typeface};
use crate::drawing::{BookFace, Ellipse, Ink, Item, ItemShape, Pen, TextLine, Turn, Weight};

/// Arcs up to this radius, in millimetres, are drawn in quarter circles; larger ones in eighths. A quarter circle as a
/// cubic strays 0.00027 of its radius, an eighth 0.000004.
const SMALL: f64 = 4.0;

/// The fonts of a document, by the names that its pages know them by.
pub(super) struct Fonts {
    /// Helvetica.
    pub(super) regular: &'static str,
    /// Helvetica-Bold.
    pub(super) bold: &'static str,
    /// The embedded typeface.
    pub(super) embedded: &'static str,
    /// The number in the embedded typeface of each of its characters, sorted by character.
    pub(super) glyphs: Vec<(char, u16)>,
    /// The cuts of the typeface of running text, where a document has nothing but that. Words that were given room by
    /// another typeface's widths are set as wide as that room.
    pub(super) book: Option<[BookFont; 3]>,
}

/// A cut of the typeface of running text, as pages know it.
pub(super) struct BookFont {
    /// Its name.
    pub(super) name: &'static str,
    /// The number in it of each of its characters, sorted by character.
    pub(super) glyphs: Vec<(char, u16)>,
}

/// Some of what a page draws, with what it is in the order of reading.
pub(super) struct Marked<'a> {
    /// Its tag, and its number on the page; `None` for what is not read, such as a running head.
    pub(super) tag: Option<(&'static str, usize)>,
    /// What is drawn.
    pub(super) items: &'a [Item],
    /// The operators that show a photograph.
    pub(super) photograph: String,
}

/// The content stream of a page whose content is marked (ISO 32000-1, 14.6).
pub(super) fn marked_stream(format: PageFormat, groups: &[Marked], fonts: &Fonts) -> Vec<u8> {
    let mut writer = ContentWriter::new(format, fonts, 0);
    for group in groups {
        match group.tag {
            Some((tag, number)) => {
                let opening = format!("/{tag} <</MCID {number}>> BDC\n1 J 1 j\n");
                writer.out.extend_from_slice(opening.as_bytes());
            }
            None => writer.out.extend_from_slice(b"/Artifact BMC\n"),
        }
        for item in group.items {
            writer.paint(item);
        }
        writer.out.extend_from_slice(group.photograph.as_bytes());
        writer.out.extend_from_slice(b"EMC\n");
    }
    writer.out
}

/// The content stream of a page.
pub(super) fn stream(format: PageFormat, items: &[Item], fonts: &Fonts) -> Vec<u8> {
    let mut writer = ContentWriter::new(format, fonts, 64 * items.len());
    if items.iter().any(|item| item.role.is_round()) {
        writer.out.extend_from_slice(b"1 J 1 j\n");
    }
    for item in items {
        writer.paint(item);
    }
    writer.out
}

/// Paints one item after the other, and says what has changed only when it has.
struct ContentWriter<'a> {
    format: PageFormat,
    fonts: &'a Fonts,
    out: Vec<u8>,
    pen: Option<Pen>,
    fill: Option<Ink>,
    font: Option<(&'static str, f64)>,
    /// Per cent of their own width that letters are set to.
    stretch: f64,
}

impl<'a> ContentWriter<'a> {
    fn new(format: PageFormat, fonts: &'a Fonts, room: usize) -> Self {
        Self {
            format,
            fonts,
            out: Vec::with_capacity(room),
            pen: None,
            fill: None,
            font: None,
            stretch: 100.0,
        }
    }

    fn paint(&mut self, item: &Item) {
        match &item.shape {
            ItemShape::Stroke(path, pen) => {
                self.set_stroke(*pen);
                self.trace(path);
                self.operator(if path.closed { b"s" } else { b"S" });
            }
            ItemShape::Ellipse(ellipse, pen) => {
                self.set_stroke(*pen);
                self.trace_ellipse(ellipse);
                self.operator(b"s");
            }
            ItemShape::Fill(path, ink) => {
                self.set_fill(*ink);
                self.trace(path);
                self.operator(b"f");
            }
            ItemShape::Text(text) => self.write(text),
        }
    }

    fn set_stroke(&mut self, pen: Pen) {
        let before = self.pen.replace(pen);
        if before.map(|p| p.ink) != Some(pen.ink) {
            self.colour(pen.ink, [b"G", b"RG"]);
        }
        if before.map(|p| p.width.to_bits()) != Some(pen.width.to_bits()) {
            self.number(mm_to_points(pen.width));
            self.operator(b"w");
        }
        if before.map(|p| p.dash) != Some(pen.dash) {
            self.out.push(b'[');
            for length in pen.dash.lengths() {
                self.number(mm_to_points(*length));
            }
            self.out.extend_from_slice(b"]0 d\n");
        }
    }

    fn set_fill(&mut self, ink: Ink) {
        if self.fill.replace(ink) != Some(ink) {
            self.colour(ink, [b"g", b"rg"]);
        }
    }

    /// A colour by one of two operators: that for greys, or that for red, green and blue.
    fn colour(&mut self, ink: Ink, [grey, rgb]: [&[u8]; 2]) {
        self.number(f64::from(ink.0) / 255.0);
        if ink.is_grey() {
            self.operator(grey);
        } else {
            self.number(f64::from(ink.1) / 255.0);
            self.number(f64::from(ink.2) / 255.0);
            self.operator(rgb);
        }
    }

    fn write(&mut self, text: &TextLine) {
        if text.words.is_empty() {
            return;
        }
        self.set_fill(text.ink);
        let typeface = font::typeface(&text.words);
        let book = self.fonts.book.as_ref().map(|book| {
            let face = match text.weight {
                Weight::Regular => BookFace::Regular,
                Weight::Bold => BookFace::Bold,
                Weight::Book(face) => face,
            };
            (face, &book[face.index()])
        });
        let font = match (book, typeface, text.weight) {
            (Some((_, book)), ..) => book.name,
            (None, Typeface::Embedded, _) => self.fonts.embedded,
            (None, Typeface::BuiltIn, Weight::Bold) => self.fonts.bold,
            (None, Typeface::BuiltIn, Weight::Regular | Weight::Book(_)) => self.fonts.regular,
        };
        self.out.extend_from_slice(b"BT\n");
        if let Some((face, _)) = book {
            self.stretch(face, text);
        }
        let (name, size) = (font, mm_to_points(text.size));
        if self.font.replace((name, size)) != Some((name, size)) {
            self.out.push(b'/');
            self.out.extend_from_slice(name.as_bytes());
            self.out.push(b' ');
            self.number(size);
            self.operator(b"Tf");
        }
        let start = text.start();
        match text.turn {
            Turn::Level => {
                self.point(start);
                self.operator(b"Td");
            }
            Turn::Up => {
                self.out.extend_from_slice(b"0 1 -1 0 ");
                self.point(start);
                self.operator(b"Tm");
            }
        }
        match (book, typeface) {
            (Some((_, book)), _) => self.wide_words(&text.words, &book.glyphs),
            (None, Typeface::BuiltIn) => self.plain_words(&text.words),
            (None, Typeface::Embedded) => self.wide_words(&text.words, &self.fonts.glyphs),
        }
        self.out.extend_from_slice(b"Tj\nET\n");
    }

    /// Makes words as wide as the room that was found for them.
    fn stretch(&mut self, face: BookFace, text: &TextLine) {
        let own = face.width(&text.words) * text.size;
        let wanted = match text.weight {
            Weight::Regular | Weight::Bold if own > 0.0 => {
                (text.width() / own * 1000.0).round() / 10.0
            }
            Weight::Regular | Weight::Bold | Weight::Book(_) => 100.0,
        };
        if (wanted - self.stretch).abs() > 0.05 {
            self.stretch = wanted;
            self.number(wanted);
            self.operator(b"Tz");
        }
    }

    /// Words in `WinAnsi` codes as a literal string (ISO 32000-1, 7.3.4.2).
    fn plain_words(&mut self, words: &str) {
        self.out.push(b'(');
        for code in words.chars().filter_map(font::win_ansi) {
            match code {
                b'(' | b')' | b'\\' => self.out.extend_from_slice(&[b'\\', code]),
                0x20..=0x7e => self.out.push(code),
                _ => {
                    let octal = [code >> 6, code >> 3 & 7, code & 7].map(|digit| b'0' + digit);
                    self.out.push(b'\\');
                    self.out.extend_from_slice(&octal);
                }
            }
        }
        self.out.push(b')');
    }

    /// Words as the numbers of their glyphs, two bytes each.
    fn wide_words(&mut self, words: &str, glyphs: &[(char, u16)]) {
        self.out.push(b'<');
        for letter in words.chars() {
            let found = glyphs.binary_search_by_key(&letter, |(known, _)| *known);
            let glyph = found.map_or(0, |index| glyphs[index].1);
            for nibble in [glyph >> 12, glyph >> 8 & 15, glyph >> 4 & 15, glyph & 15] {
                self.out.push(b"0123456789ABCDEF"[usize::from(nibble)]);
            }
        }
        self.out.push(b'>');
    }

    fn trace(&mut self, path: &Path) {
        let Some(first) = path.vertices.first() else {
            return;
        };
        self.point(first.point);
        self.operator(b"m");
        let mut segments = path.segments().peekable();
        while let Some(segment) = segments.next() {
            match segment {
                // Closing the path draws the last straight side.
                Segment::Line(..) if path.closed && segments.peek().is_none() => {}
                Segment::Line(_, to) => {
                    self.point(to);
                    self.operator(b"l");
                }
                Segment::Arc(arc) => self.trace_arc(&arc),
            }
        }
    }

    /// An arc as cubics: the two handles of a piece of sweep `s` lie `4/3 tan(s/4)` radii along its tangents.
    fn trace_arc(&mut self, arc: &Arc) {
        let (centre, radius, sweep) = (arc.centre(), arc.radius(), arc.sweep());
        let largest = if radius <= SMALL {
            FRAC_PI_2
        } else {
            FRAC_PI_4
        };
        let pieces = (sweep.abs() / largest - 1e-9).ceil().max(1.0);
        let step = sweep / pieces;
        let reach = 4.0 / 3.0 * (step / 4.0).tan();
        let start = arc.start_angle();
        let mut from = Point::polar(radius, start);
        for index in 1..=pieces as usize {
            let to = Point::polar(radius, start + step * index as f64);
            self.curve(
                centre + from + from.left() * reach,
                centre + to - to.left() * reach,
                centre + to,
            );
            from = to;
        }
    }

    fn trace_ellipse(&mut self, ellipse: &Ellipse) {
        let pieces = 8;
        let step = TAU / f64::from(pieces);
        let reach = 4.0 / 3.0 * (step / 4.0).tan();
        self.point(ellipse.point_at(0.0));
        self.operator(b"m");
        for index in 0..pieces {
            let (a, b) = (step * f64::from(index), step * f64::from(index + 1));
            self.curve(
                ellipse.point_at(a) + ellipse.direction_at(a) * reach,
                ellipse.point_at(b) - ellipse.direction_at(b) * reach,
                ellipse.point_at(b),
            );
        }
    }

    fn curve(&mut self, leaving: Point, arriving: Point, to: Point) {
        self.point(leaving);
        self.point(arriving);
        self.point(to);
        self.operator(b"c");
    }

    /// A point of the sheet as two numbers.
    fn point(&mut self, point: Point) {
        let drawn = self.format.drawn(point);
        self.number(mm_to_points(drawn.x));
        self.number(mm_to_points(drawn.y));
    }

    /// A number to a thousandth, which is 0.0004 mm where it is in points, and a space.
    fn number(&mut self, value: f64) {
        self.out
            .extend_from_slice(Decimal::new(value, 3).as_bytes());
        self.out.push(b' ');
    }

    fn operator(&mut self, name: &[u8]) {
        self.out.extend_from_slice(name);
        self.out.push(b'\n');
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::circle;

    const PLAIN: PageFormat = PageFormat {
        size: (210.0, 297.0),
        scale: (1.0, 1.0),
        blank: (0.0, 0.0),
    };

    fn written(item: Item) -> String {
        let fonts = Fonts {
            regular: "F1",
            bold: "F2",
            embedded: "Wide",
            glyphs: vec![('Ж', 0x0102)],
            book: None,
        };
        String::from_utf8(stream(PLAIN, &[item], &fonts)).unwrap()
    }

    /// The corners and handles of a stream, in millimetres.
    fn points(stream: &str) -> Vec<Point> {
        let path = stream
            .lines()
            .filter(|line| line.ends_with(['m', 'l', 'c']));
        let numbers: Vec<f64> = path
            .flat_map(|line| line.split(' ').filter_map(|word| word.parse().ok()))
            .collect();
        numbers
            .chunks(2)
            .map(|pair| Point::new(pair[0], pair[1]) * (25.4 / 72.0))
            .collect()
    }

    fn bezier(p: &[Point], t: f64) -> Point {
        let s = 1.0 - t;
        p[0] * (s * s * s)
            + p[1] * (3.0 * s * s * t)
            + p[2] * (3.0 * s * t * t)
            + p[3] * (t * t * t)
    }

    /// Cubics stay within 0.0016 mm of every circle that is drilled or sawn in furniture: 0.0012 by the cubics, the rest
    /// by the decimals.
    #[test]
    fn circles_keep_their_radius() {
        for radius in [0.5, 2.5, 4.0, 17.5, 60.0, 250.0] {
            let centre = Point::new(300.0, 300.0);
            let points = points(&written(Item::stroke(
                crate::drawing::Role::Hole,
                circle(centre, radius),
                Pen::THIN,
            )));
            assert!(points.len() >= 13, "{points:?}");
            for piece in points.windows(4).step_by(3) {
                for i in 0..=20 {
                    let off = bezier(piece, f64::from(i) / 20.0).distance(centre) - radius;
                    assert!(off.abs() < 0.0016, "radius {radius}: {off}");
                }
            }
        }
    }

    #[test]
    fn an_ellipse_keeps_its_axes() {
        let ellipse = Ellipse {
            centre: Point::new(100.0, 100.0),
            half_length: 18.4,
            half_width: 4.7625,
            angle: 0.0,
        };
        let points = points(&written(Item {
            role: crate::drawing::Role::HandWork,
            shape: ItemShape::Ellipse(ellipse, Pen::THIN),
        }));
        assert_eq!(points.len(), 25);
        for piece in points.windows(4).step_by(3) {
            for i in 0..=20 {
                let p = bezier(piece, f64::from(i) / 20.0) - ellipse.centre;
                let on = (p.x / 18.4).hypot(p.y / 4.7625);
                assert!((on - 1.0).abs() < 2e-4, "{p:?}");
            }
        }
    }

    /// Strings and their escapes: ISO 32000-1, 7.3.4.2, Table 3.
    #[test]
    fn words_are_escaped() {
        let text = |words: &str| {
            written(Item::text(
                crate::drawing::Role::Label,
                TextLine::new(Point::new(25.4, 50.8), 3.175, words),
            ))
        };
        assert_eq!(
            text(r"Ø5 (a\b)"),
            "0 g\nBT\n/F1 9 Tf\n72 144 Td\n(\\3305 \\(a\\\\b\\))Tj\nET\n"
        );
        assert_eq!(text("Ж"), "0 g\nBT\n/Wide 9 Tf\n72 144 Td\n<0102>Tj\nET\n");
    }
}
