//! What the library that writes PDF has no words for, put right in the finished objects: no scaling on the way to the
//! printer, a version that knows of it, where the part lies on each page, an identifier made from the content, and no
//! dates but the user's.

use std::fmt::Write;

use chrono::DateTime;
use flate2::{Compress, CompressError, Compression, FlushCompress, Status};
use jigless_model::export::Stamp;
use jigless_model::geom::Bounds;
use jigless_model::units::{MM_PER_INCH, POINTS_PER_INCH, mm_to_points};
use lopdf::{Dictionary, Document, Object, StringFormat, dictionary};
use sha2::{Digest, Sha256};

use super::page_format::PageFormat;
use super::paper_sheet::{PaperSheet, Viewport};

/// Level of compression, of 9: a template of 12 KB at a higher one has 15 KB at this, and takes half the time.
const LEVEL: u32 = 1;

/// The file, finished. `contents` is what each page draws.
pub(super) fn finish(
    mut document: Document,
    sheets: &[PaperSheet],
    contents: impl Iterator<Item = Vec<u8>>,
    title: &str,
    stamp: &Stamp,
) -> Result<Vec<u8>, String> {
    let fault = |error: lopdf::Error| format!("the PDF cannot be finished: {error}");
    let broken = |error: std::io::Error| format!("the PDF cannot be written: {error}");
    // PrintScaling came with 1.6; 1.7 is what ISO 32000-1 describes.
    "1.7".clone_into(&mut document.version);

    let catalog = document.catalog_mut().map_err(fault)?;
    catalog.set("PageLayout", "SinglePage");
    catalog.set(
        "ViewerPreferences",
        dictionary! { "PrintScaling" => "None", "DisplayDocTitle" => true },
    );

    let pages: Vec<_> = document.get_pages().into_values().collect();
    let mut resources = None;
    for ((id, sheet), content) in pages.into_iter().zip(sheets).zip(contents) {
        let page = document
            .get_object_mut(id)
            .and_then(Object::as_dict_mut)
            .map_err(fault)?;
        // Both are the MediaBox, which is what holds without them.
        page.remove(b"CropBox");
        page.remove(b"TrimBox");
        page.remove(b"Annots");
        if let Some(viewport) = &sheet.viewport {
            page.set(
                "VP",
                vec![Object::Dictionary(measured(viewport, sheet.format))],
            );
        }
        // All pages have the same fonts and nothing else: those of the first do for all.
        let own = page.get(b"Resources").and_then(Object::as_reference);
        let shared = *resources.get_or_insert(own.map_err(fault)?);
        page.set("Resources", shared);
        let drawn = page.get(b"Contents").and_then(Object::as_reference);
        let stream = document.get_object_mut(drawn.map_err(fault)?);
        let stream = stream.and_then(Object::as_stream_mut).map_err(fault)?;
        stream.set_content(content);
    }
    if let Some(id) = resources {
        let shared = document.get_object_mut(id).and_then(Object::as_dict_mut);
        let shared = shared.map_err(fault)?;
        for unused in [&b"XObject"[..], b"ExtGState", b"Shading"] {
            shared.remove(unused);
        }
    }

    let info = document.add_object(information(title, stamp));
    document.trailer.set("Info", info);
    document.prune_objects();
    document.renumber_objects();
    compress(&mut document).map_err(|error| format!("the PDF cannot be compressed: {error}"))?;

    // The identifier stands for everything else in the file: it is left blank, and filled in from what was written.
    let blank = Object::String(vec![0; ID_BYTES], StringFormat::Hexadecimal);
    document.trailer.set("ID", vec![blank.clone(), blank]);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).map_err(broken)?;
    fill_in_identifier(&mut bytes).ok_or("the PDF has no identifier to fill in")?;
    Ok(bytes)
}

/// Bytes of an identifier: as many as an MD5 digest has, which is what ISO 32000-1, 14.4 recommends.
const ID_BYTES: usize = 16;

/// Writes a digest of the file into the two blank identifiers of its trailer.
fn fill_in_identifier(bytes: &mut [u8]) -> Option<()> {
    let digest = Sha256::digest(&*bytes);
    let mut id = String::with_capacity(2 * ID_BYTES);
    for byte in &digest[..ID_BYTES] {
        // Writing to a String cannot fail.
        let _ = write!(id, "{byte:02X}");
    }
    let blank = [b'0'; 2 * ID_BYTES];
    for _ in 0..2 {
        let at = bytes.windows(blank.len()).rposition(|part| part == blank)?;
        bytes[at..at + blank.len()].copy_from_slice(id.as_bytes());
    }
    Some(())
}

/// Compresses what the pages draw. The library's own way takes the highest level, which for drawings of this kind takes
/// many times as long as [`LEVEL`].
fn compress(document: &mut Document) -> Result<(), CompressError> {
    // Making one takes longer than what it does for a page.
    let mut packer = Compress::new(Compression::new(LEVEL), true);
    for object in document.objects.values_mut() {
        let Object::Stream(stream) = object else {
            continue;
        };
        if stream.dict.has(b"Filter") {
            continue;
        }
        packer.reset();
        // Where it does not fit into less than it is, it stays as it is.
        let mut packed = Vec::with_capacity(stream.content.len());
        let status = packer.compress_vec(&stream.content, &mut packed, FlushCompress::Finish)?;
        if status == Status::StreamEnd && packed.len() < stream.content.len() {
            stream.dict.set("Filter", "FlateDecode");
            packed.shrink_to_fit();
            stream.set_content(packed);
        }
    }
    Ok(())
}

/// Where the part lies on a page, for readers that measure: a viewport with a rectilinear measure of 1:1 in
/// millimetres, whose origin is the part's 0,0 (ISO 32000-1, 12.9, Tables 260 to 263). Where the page is drawn longer or
/// shorter for a printer, the measure says what is meant.
fn measured(viewport: &Viewport, format: PageFormat) -> Dictionary {
    let real = |mm: f64| Object::Real((mm_to_points(mm) * 10_000.0).round() as f32 / 10_000.0);
    let unit = |name: &str, factor: f64| {
        vec![Object::Dictionary(dictionary! {
            "Type" => "NumberFormat",
            "U" => Object::string_literal(name),
            "C" => Object::Real(factor as f32),
            "D" => 100,
        })]
    };
    let window = Bounds::new(
        format.drawn(viewport.window.min),
        format.drawn(viewport.window.max),
    );
    let origin = format.drawn(viewport.origin);
    let unit_mm = MM_PER_INCH / POINTS_PER_INCH;
    let mut measure = dictionary! {
        "Type" => "Measure",
        "Subtype" => "RL",
        "R" => Object::string_literal("1:1"),
        "O" => vec![real(origin.x), real(origin.y)],
        "X" => unit("mm", unit_mm / format.scale.0),
        "D" => unit("mm", 1.0),
        "A" => unit("mm2", 1.0),
    };
    if format.scale.0.to_bits() != format.scale.1.to_bits() {
        measure.set("Y", unit("mm", unit_mm / format.scale.1));
        measure.set("CYX", Object::Real(1.0));
    }
    dictionary! {
        "Type" => "Viewport",
        "Name" => Object::string_literal(viewport.name.as_str()),
        "BBox" => vec![
            real(window.min.x), real(window.min.y), real(window.max.x), real(window.max.y),
        ],
        "Measure" => measure,
    }
}

fn information(title: &str, stamp: &Stamp) -> Dictionary {
    let text = |words: &str| {
        let units = words.encode_utf16().flat_map(u16::to_be_bytes);
        let bytes: Vec<u8> = [0xfe, 0xff].into_iter().chain(units).collect();
        Object::String(bytes, StringFormat::Hexadecimal)
    };
    let mut information = dictionary! {
        "Title" => text(title),
        "Creator" => text(&stamp.tool),
        "Producer" => text(&stamp.tool),
    };
    if let Some(date) = stamp
        .date
        .and_then(|seconds| DateTime::from_timestamp(seconds, 0))
    {
        let date = date.format("D:%Y%m%d%H%M%SZ").to_string();
        information.set("CreationDate", Object::string_literal(date.clone()));
        information.set("ModDate", Object::string_literal(date));
    }
    information
}
