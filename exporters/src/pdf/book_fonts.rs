//! The typeface of running text in a file: each cut with just the letters that are used (ISO 32000-1, 9.7.4 and 9.10.3).

use std::collections::BTreeSet;
use std::fmt::Write;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};
use subsetter::GlyphRemapper;

use super::book_page::BookPage;
use super::content::BookFont;
use super::finish::whole;
use crate::drawing::{BookFace, ItemShape, Weight};

/// Names of the cuts on pages.
const NAMES: [&str; 3] = ["Book", "BookBold", "BookOblique"];

/// Writes the cuts into a document; gives them as pages know them, and the dictionary of fonts of every page.
pub(super) fn fonts(
    document: &mut Document,
    pages: &[BookPage],
) -> Result<([BookFont; 3], Dictionary), String> {
    let mut letters: [BTreeSet<char>; 3] = Default::default();
    let items = pages
        .iter()
        .flat_map(|page| &page.inks)
        .flat_map(|ink| &ink.items);
    for item in items {
        let ItemShape::Text(text) = &item.shape else {
            continue;
        };
        let face = match text.weight {
            Weight::Regular => BookFace::Regular,
            Weight::Bold => BookFace::Bold,
            Weight::Book(face) => face,
        };
        letters[face.index()].extend(text.words.chars());
    }
    let mut named = Dictionary::new();
    let mut all = Vec::new();
    for (face, letters) in BookFace::ALL.into_iter().zip(&letters) {
        let name = NAMES[face.index()];
        let mut glyphs = Vec::new();
        if !letters.is_empty() {
            let font = embedded(document, face, letters, &mut glyphs)?;
            named.set(name, font);
        }
        all.push(BookFont { name, glyphs });
    }
    let all: [BookFont; 3] = all
        .try_into()
        .map_err(|_| "a cut of the typeface is missing".to_owned())?;
    Ok((all, named))
}

fn embedded(
    document: &mut Document,
    face: BookFace,
    letters: &BTreeSet<char>,
    glyphs: &mut Vec<(char, u16)>,
) -> Result<ObjectId, String> {
    let mut remapper = GlyphRemapper::new();
    let mut widths = Vec::new();
    let mut unicode = String::new();
    for letter in letters {
        let Some(glyph) = face.glyph(*letter) else {
            continue;
        };
        let new = remapper.remap(glyph);
        glyphs.push((*letter, new));
        let width = face.advance(glyph).round() as i64;
        widths.push(Object::Integer(i64::from(new)));
        widths.push(Object::Array(vec![Object::Integer(width)]));
        let mut units = [0; 2];
        let units = letter.encode_utf16(&mut units);
        let _ = write!(unicode, "<{new:04X}> <");
        for unit in units {
            let _ = write!(unicode, "{unit:04X}");
        }
        unicode.push_str(">\n");
    }
    let bytes = subsetter::subset(face.bytes(), 0, &remapper)
        .map_err(|error| format!("the typeface cannot be cut down: {error}"))?;
    let parsed = face.face().ok_or("the typeface cannot be read")?;
    let per_em = f64::from(parsed.units_per_em());
    let scaled = |units: i16| Object::Integer((f64::from(units) * 1000.0 / per_em).round() as i64);
    let bounds = parsed.global_bounding_box();
    let name = format!("JIGLES+{}", face.name());
    let length = whole(bytes.len());
    let file = document.add_object(Stream::new(dictionary! { "Length1" => length }, bytes));
    let (flags, angle) = match face {
        BookFace::Oblique => (32 + 64, -11),
        BookFace::Regular | BookFace::Bold => (32, 0),
    };
    let descriptor = document.add_object(dictionary! {
        "Type" => "FontDescriptor",
        "FontName" => Object::Name(name.clone().into_bytes()),
        "Flags" => flags,
        "FontBBox" => vec![
            scaled(bounds.x_min), scaled(bounds.y_min), scaled(bounds.x_max), scaled(bounds.y_max),
        ],
        "ItalicAngle" => angle,
        "Ascent" => scaled(parsed.ascender()),
        "Descent" => scaled(parsed.descender()),
        "CapHeight" => scaled(parsed.capital_height().unwrap_or(parsed.ascender())),
        "StemV" => if face == BookFace::Bold { 140 } else { 80 },
        "FontFile2" => file,
    });
    let literal = |words: &str| Object::String(words.as_bytes().to_vec(), StringFormat::Literal);
    let descendant = document.add_object(dictionary! {
        "Type" => "Font",
        "Subtype" => "CIDFontType2",
        "BaseFont" => Object::Name(name.clone().into_bytes()),
        "CIDSystemInfo" => dictionary! {
            "Registry" => literal("Adobe"), "Ordering" => literal("Identity"), "Supplement" => 0,
        },
        "FontDescriptor" => descriptor,
        "CIDToGIDMap" => "Identity",
        "W" => widths,
    });
    let map = document.add_object(Stream::new(
        Dictionary::new(),
        to_unicode(&unicode).into_bytes(),
    ));
    Ok(document.add_object(dictionary! {
        "Type" => "Font",
        "Subtype" => "Type0",
        "BaseFont" => Object::Name(name.into_bytes()),
        "Encoding" => "Identity-H",
        "DescendantFonts" => vec![Object::Reference(descendant)],
        "ToUnicode" => map,
    }))
}

/// A map from glyphs to characters, at most a hundred entries a block as the format asks for.
fn to_unicode(entries: &str) -> String {
    let mut map = "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n\
                   /CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n\
                   /CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n\
                   1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n"
        .to_owned();
    let lines: Vec<&str> = entries.lines().collect();
    for block in lines.chunks(100) {
        let _ = writeln!(map, "{} beginbfchar", block.len());
        for line in block {
            map.push_str(line);
            map.push('\n');
        }
        map.push_str("endbfchar\n");
    }
    map.push_str("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
    map
}
