//! Photographs in a document: each file once, however often it is seen.

use std::io::Cursor;
use std::sync::Arc;

use jigless_model::geom::Bounds;
use jigless_model::photograph::{Encoding, Picture};
use jigless_model::units::mm_to_points;
use lopdf::{Dictionary, Document, Object, Stream, dictionary};
use png::{ColorType, Decoder, Transformations};

use super::book_page::BookPage;

/// The photographs of all pages, by the names that pages know them by.
pub(super) struct Photographs {
    known: Vec<(Arc<Picture>, String)>,
    /// What pages may name.
    pub(super) named: Dictionary,
}

impl Photographs {
    /// Puts those of some pages into the document.
    pub(super) fn of(document: &mut Document, pages: &[BookPage]) -> Result<Self, String> {
        let mut all = Self {
            known: Vec::new(),
            named: Dictionary::new(),
        };
        let inks = pages.iter().flat_map(|page| &page.inks);
        for (picture, _) in inks.filter_map(|ink| ink.photograph.as_ref()) {
            if all.name(picture).is_none() {
                let name = format!("Photo{}", all.known.len() + 1);
                let object = document.add_object(image(picture)?);
                all.named.set(name.as_str(), object);
                all.known.push((Arc::clone(picture), name));
            }
        }
        Ok(all)
    }

    /// The operators that show one in a box on the page, in millimetres (ISO 32000-1, 8.9.5).
    pub(super) fn shown(&self, photograph: &(Arc<Picture>, Bounds)) -> String {
        let (picture, bounds) = photograph;
        let Some(name) = self.name(picture) else {
            return String::new();
        };
        let [x, y, width, height] = [bounds.min.x, bounds.min.y, bounds.width(), bounds.height()]
            .map(|mm| format!("{:.2}", mm_to_points(mm)));
        format!("q {width} 0 0 {height} {x} {y} cm /{name} Do Q\n")
    }

    fn name(&self, picture: &Arc<Picture>) -> Option<&str> {
        let mut known = self.known.iter();
        let found = known.find(|(other, _)| Arc::ptr_eq(other, picture));
        found.map(|(_, name)| name.as_str())
    }
}

/// An image object: the dots of a JPEG as they are coded, those of a PNG on white.
fn image(picture: &Picture) -> Result<Stream, String> {
    let (space, content, filter) = match picture.encoding {
        Encoding::GreyJpeg => ("DeviceGray", picture.bytes.clone(), Some("DCTDecode")),
        Encoding::ColourJpeg => ("DeviceRGB", picture.bytes.clone(), Some("DCTDecode")),
        Encoding::Png => {
            let dots = on_white(&picture.bytes);
            let dots = dots.map_err(|error| format!("a photograph cannot be read: {error}"))?;
            ("DeviceRGB", dots, None)
        }
    };
    let mut entries = dictionary! {
        "Type" => "XObject",
        "Subtype" => "Image",
        "Width" => Object::Integer(picture.width.into()),
        "Height" => Object::Integer(picture.height.into()),
        "ColorSpace" => space,
        "BitsPerComponent" => 8,
    };
    if let Some(filter) = filter {
        entries.set("Filter", filter);
    }
    Ok(Stream::new(entries, content))
}

/// Red, green and blue of each dot of a PNG file; what is seen through is white.
fn on_white(bytes: &[u8]) -> Result<Vec<u8>, png::DecodingError> {
    let mut decoder = Decoder::new(Cursor::new(bytes));
    decoder.set_transformations(Transformations::EXPAND | Transformations::STRIP_16);
    let mut reader = decoder.read_info()?;
    let mut dots = Vec::new();
    let colours = reader.output_color_type().0;
    while let Some(row) = reader.next_row()? {
        for dot in row.data().chunks_exact(colours.samples()) {
            let (seen, opaque) = match (colours, dot) {
                (ColorType::GrayscaleAlpha, [grey, alpha]) => ([*grey; 3], *alpha),
                (ColorType::Rgba, [red, green, blue, alpha]) => ([*red, *green, *blue], *alpha),
                (_, [red, green, blue]) => ([*red, *green, *blue], u8::MAX),
                (_, [grey, ..]) => ([*grey; 3], u8::MAX),
                (_, []) => continue,
            };
            dots.extend(seen.map(|part| over_white(part, opaque)));
        }
    }
    Ok(dots)
}

fn over_white(part: u8, opaque: u8) -> u8 {
    let (part, opaque) = (u16::from(part), u16::from(opaque));
    ((part * opaque + 255 * (255 - opaque)) / 255) as u8
}
