//! Records: layers, and shapes as entities (CIRCLE, LWPOLYLINE or in R12 POLYLINE with its VERTEX and SEQEND, and TEXT).
//!
//! Each has the groups that the DXF Reference asks for, in its order. R12 has no subclass markers, no owners and no line
//! weights. VERTEX and SEQEND are on the layer of their POLYLINE.

use std::borrow::Cow;

use jigless_model::geom::{Path, Point};

use super::groups::Groups;
use super::template::{LAYER_TABLE, MODEL_SPACE};
use crate::machine::drawing::{CHARACTER_WIDTH, LayerShape, NoteText};
use crate::machine::file_options::Version;

/// `ByLayer` as a line weight (DXF Reference, common group codes for entities, 370).
const WEIGHT_BY_LAYER: i16 = -1;

/// Degrees by which a text that reads upward is turned.
const UPWARD: f64 = 90.0;

/// Centred about its second point (DXF Reference, TEXT, 72).
const CENTRED: i16 = 1;

/// Bytes that a name or text may take in a record: 255 in every version, less some to spare.
const LONGEST_TEXT: usize = 240;

/// Why a file could not be written: a coordinate on the layer of this name is not a number.
#[derive(Debug, PartialEq, thiserror::Error)]
#[error("a coordinate on layer {0} is not a finite number")]
pub(crate) struct NotFinite(pub(super) String);

/// Writes records one after the other.
pub(super) struct RecordWriter {
    /// The records so far.
    pub(super) groups: Groups,
    pub(super) version: Version,
    /// Length of the file's unit in millimetres.
    pub(super) unit_in_mm: f64,
    /// Handle of the next record that has one.
    pub(super) next_handle: u64,
}

impl RecordWriter {
    /// Declares a layer, drawn with the default line weight.
    pub(super) fn layer(&mut self, name: &str, colour: u8) {
        self.groups.text(0, "LAYER");
        if self.version == Version::R2000 {
            self.handle();
            self.groups.text(330, LAYER_TABLE);
            self.groups.text(100, "AcDbSymbolTableRecord");
            self.groups.text(100, "AcDbLayerTableRecord");
        }
        self.groups.text(2, name);
        self.groups.short(70, 0);
        self.groups.short(62, colour.into());
        self.groups.text(6, "CONTINUOUS");
        if self.version == Version::R2000 {
            self.groups.text(290, "1");
            self.groups.text(370, "-3");
        }
    }

    /// Draws a shape at a height, in millimetres.
    pub(super) fn draw(
        &mut self,
        shape: &LayerShape,
        layer: &str,
        z: f64,
    ) -> Result<(), NotFinite> {
        let finite = match shape {
            LayerShape::Circle { centre, radius } => centre.is_finite() && radius.is_finite(),
            LayerShape::Path(path) => path
                .vertices
                .iter()
                .all(|v| v.point.is_finite() && v.bulge.is_finite()),
            LayerShape::Text(text) => text.at.is_finite() && text.height.is_finite(),
        };
        if !finite {
            return Err(NotFinite(layer.to_owned()));
        }
        match (shape, self.version) {
            (LayerShape::Circle { centre, radius }, _) => {
                self.begin("CIRCLE", layer, "AcDbCircle");
                self.point([10, 20, 30], *centre, z);
                self.length(40, *radius);
            }
            (LayerShape::Path(path), Version::R2000) => self.light_polyline(path, layer, z),
            (LayerShape::Path(path), Version::R12) => self.heavy_polyline(path, layer, z),
            (LayerShape::Text(text), _) => self.text(text, layer),
        }
        Ok(())
    }

    /// Where all the rest of a path is: its elevation is the one of the whole.
    fn light_polyline(&mut self, path: &Path, layer: &str, z: f64) {
        self.begin("LWPOLYLINE", layer, "AcDbPolyline");
        self.groups.long(90, path.vertices.len());
        self.groups.short(70, i16::from(path.closed));
        if z != 0.0 {
            self.length(38, z);
        }
        for (at, bulge) in corners(path) {
            self.length(10, at.x);
            self.length(20, at.y);
            self.groups.bulge(bulge);
        }
    }

    fn heavy_polyline(&mut self, path: &Path, layer: &str, z: f64) {
        self.begin("POLYLINE", layer, "");
        // Vertices follow.
        self.groups.short(66, 1);
        self.point([10, 20, 30], Point::default(), z);
        if path.closed {
            self.groups.short(70, 1);
        }
        for (at, bulge) in corners(path) {
            self.begin("VERTEX", layer, "");
            self.point([10, 20, 30], at, z);
            self.groups.bulge(bulge);
            self.groups.short(70, 0);
        }
        self.begin("SEQEND", layer, "");
    }

    /// A text that is too long for one record goes on to the right of itself, in another one. It lies at 0, whatever the
    /// height of the work.
    fn text(&mut self, text: &NoteText, layer: &str) {
        let content = plain(&text.content);
        let pieces = split(&content);
        let centred = text.centred && pieces.len() == 1;
        let length = |piece: &str| piece.chars().count() as f64 * CHARACTER_WIDTH * text.height;
        let back = if text.centred {
            length(&content) / 2.0
        } else {
            0.0
        };
        let mut start = text.at - text.direction() * back;
        for piece in pieces {
            // How long a text is is an estimate: it must not bring a negative coordinate into a file that has none.
            let kept = |start: f64, at: f64| if at >= 0.0 { start.max(0.0) } else { start };
            let place = Point::new(kept(start.x, text.at.x), kept(start.y, text.at.y));
            self.begin("TEXT", layer, "AcDbText");
            self.point([10, 20, 30], place, 0.0);
            self.length(40, text.height);
            let has_code_page = self.version == Version::R2000;
            self.groups.letters(1, piece, has_code_page);
            if text.upward {
                self.groups.length(50, UPWARD);
            }
            if centred {
                self.groups.short(72, CENTRED);
                self.point([11, 21, 31], text.at, 0.0);
            }
            self.subclass("AcDbText");
            start = start + text.direction() * length(piece);
        }
    }

    /// Begins an entity with what all have in common.
    fn begin(&mut self, kind: &str, layer: &str, subclass: &str) {
        self.groups.text(0, kind);
        self.handle();
        if self.version == Version::R2000 {
            self.groups.text(330, MODEL_SPACE);
        }
        self.subclass("AcDbEntity");
        self.groups.text(8, layer);
        if self.version == Version::R2000 {
            self.groups.short(370, WEIGHT_BY_LAYER);
        }
        self.subclass(subclass);
    }

    fn handle(&mut self) {
        self.groups.handle(5, self.next_handle);
        self.next_handle += 1;
    }

    fn subclass(&mut self, name: &str) {
        if self.version == Version::R2000 {
            self.groups.text(100, name);
        }
    }

    #[inline]
    fn length(&mut self, code: u16, mm: f64) {
        self.groups.length(code, mm / self.unit_in_mm);
    }

    #[inline]
    fn point(&mut self, codes: [u16; 3], at: Point, z: f64) {
        self.length(codes[0], at.x);
        self.length(codes[1], at.y);
        self.length(codes[2], z);
    }
}

/// The corners of a path with the bulge that follows each. The last one of an open path leads nowhere.
fn corners(path: &Path) -> impl Iterator<Item = (Point, f64)> {
    let last = path.vertices.len().saturating_sub(1);
    path.vertices.iter().enumerate().map(move |(index, v)| {
        let leads_on = path.closed || index < last;
        (v.point, if leads_on { v.bulge } else { 0.0 })
    })
}

/// The text without what a reader would take for a command: control characters, and `%%`, which starts one (DXF
/// Reference, TEXT). Characters beyond the first 65,536 cannot be written in these versions; U+FFFD stands for them.
fn plain(text: &str) -> Cow<'_, str> {
    if is_plain(text) {
        return Cow::Borrowed(text);
    }
    let words: Vec<&str> = text
        .split(|c: char| c.is_whitespace() || c.is_control())
        .filter(|word| !word.is_empty())
        .collect();
    let text = words.join(" ").replace("%%", "% %");
    let known = |c| if u32::from(c) > 0xFFFF { '\u{FFFD}' } else { c };
    Cow::Owned(text.chars().map(known).collect())
}

/// Whether a text surely has nothing to be replaced: words of printable ASCII with one space between them.
fn is_plain(text: &str) -> bool {
    let bytes = text.as_bytes();
    let printable = bytes.iter().all(|b| matches!(b, b' '..=b'~'));
    let repeated = |pair: &[u8]| pair == b"  " || pair == b"%%";
    printable && !text.starts_with(' ') && !text.ends_with(' ') && !bytes.windows(2).any(repeated)
}

/// The text in pieces that each fit into a record. Outside ASCII a character is written as `\U+0000`.
fn split(text: &str) -> Vec<&str> {
    let mut pieces = Vec::new();
    let (mut start, mut size) = (0, 0);
    for (at, c) in text.char_indices() {
        let cost = match c {
            // `^` is written with a space after it.
            '^' => 2,
            c if c.is_ascii() => 1,
            _ => 7,
        };
        if size + cost > LONGEST_TEXT {
            pieces.push(&text[start..at]);
            (start, size) = (at, 0);
        }
        size += cost;
    }
    pieces.push(&text[start..]);
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_hold_no_commands_and_no_lines() {
        assert_eq!(plain("50 %% off\r\n  0\nEOF\t\u{7}x"), "50 % % off 0 EOF x");
        assert_eq!(plain("glaze \u{1F3FA} door"), "glaze \u{FFFD} door");
        assert_eq!(plain(" two  spaces "), "two spaces");
        for text in ["", "Count: 2", "50 % off"] {
            assert!(matches!(plain(text), Cow::Borrowed(same) if same == text));
        }
    }

    #[test]
    fn long_texts_lose_nothing() {
        let long = "Дверь ".repeat(60);
        let pieces = split(&long);
        assert!(pieces.len() > 1);
        assert_eq!(pieces.concat(), long);
        assert_eq!(split("short"), ["short"]);
        assert_eq!(split(""), [""]);
    }
}
