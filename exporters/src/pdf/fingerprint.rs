//! What tells one sheet from another: a digest of what is drawn and said for the part, and not of the plan, its revision
//! or the number of the sheet. A sheet of an earlier print with the same one is as good as new.

use jigless_model::geom::{Path, Point};
use sha2::{Digest, Sha256};

use super::page_format::PageFormat;
use crate::drawing::{Item, ItemShape, Pen, TextLine, Turn};

/// Letters of a fingerprint: enough to keep some hundreds of sheets apart, and few enough to compare by eye.
const LETTERS: usize = 8;

/// The fingerprint of a sheet.
pub(super) fn of_sheet(format: PageFormat, items: &[Item]) -> String {
    let mut mixer = Mixer(Sha256::new());
    mixer.number(format.size.0);
    mixer.number(format.size.1);
    for item in items {
        mixer.item(item);
    }
    mixer.code()
}

/// The fingerprint of some words.
pub(super) fn of_words<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let mut mixer = Mixer(Sha256::new());
    for words in words {
        mixer.words(words);
    }
    mixer.code()
}

/// Takes one thing after the other.
struct Mixer(Sha256);

impl Mixer {
    fn code(self) -> String {
        let digest = self.0.finalize();
        let letters = digest.iter().map(|byte| format!("{byte:02x}"));
        letters.collect::<String>()[..LETTERS].to_owned()
    }

    /// To the thousandth of a millimetre, so that no noise in the last digit makes another sheet.
    fn number(&mut self, mm: f64) {
        let thousandths = (mm * 1000.0).round() as i64;
        self.0.update(thousandths.to_le_bytes());
    }

    fn point(&mut self, point: Point) {
        self.number(point.x);
        self.number(point.y);
    }

    fn words(&mut self, words: &str) {
        self.0.update((words.len() as u64).to_le_bytes());
        self.0.update(words.as_bytes());
    }

    fn pen(&mut self, pen: Pen) {
        self.number(pen.width);
        self.0
            .update([pen.ink.0, pen.ink.1, pen.ink.2, pen.dash as u8]);
    }

    fn path(&mut self, path: &Path) {
        self.0.update([u8::from(path.closed)]);
        for vertex in &path.vertices {
            self.point(vertex.point);
            self.number(vertex.bulge);
        }
    }

    fn text(&mut self, text: &TextLine) {
        self.point(text.start());
        self.number(text.size);
        self.0.update([u8::from(text.turn == Turn::Up)]);
        self.words(&text.words);
    }

    fn item(&mut self, item: &Item) {
        match &item.shape {
            ItemShape::Stroke(path, pen) => {
                self.0.update(b"s");
                self.path(path);
                self.pen(*pen);
            }
            ItemShape::Fill(path, ink) => {
                self.0.update(b"f");
                self.path(path);
                self.0.update([ink.0, ink.1, ink.2]);
            }
            ItemShape::Ellipse(ellipse, pen) => {
                self.0.update(b"e");
                self.point(ellipse.centre);
                for number in [ellipse.half_length, ellipse.half_width, ellipse.angle] {
                    self.number(number);
                }
                self.pen(*pen);
            }
            ItemShape::Text(text) => {
                self.0.update(b"t");
                self.text(text);
            }
        }
    }
}
