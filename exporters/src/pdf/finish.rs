//! What the library that writes PDF has no words for, put right in the finished objects: no scaling on the way to the
//! printer, a version that knows of it, where the part lies on each page, an identifier made from the content, and no
//! dates but the user's.

use std::fmt::Write;

use chrono::DateTime;
use flate2::{Compress, CompressError, Compression, FlushCompress, Status};
use jigless_model::export::Stamp;
use jigless_model::geom::Bounds;
use jigless_model::units::{MM_PER_INCH, POINTS_PER_INCH, mm_to_points};
use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat, dictionary};
use sha2::{Digest, Sha256};

use super::document_facts::DocumentFacts;
use super::page_format::PageFormat;
use super::paper_sheet::{PaperSheet, Viewport};

/// Level of compression, of 9: a template of 12 KB at a higher one has 15 KB at this, and takes half the time.
const LEVEL: u32 = 1;

/// The file, finished. `contents` is what each page draws.
pub(super) fn finish(
    mut document: Document,
    sheets: &[PaperSheet],
    contents: impl Iterator<Item = Vec<u8>>,
    about: &DocumentFacts,
    stamp: &Stamp,
) -> Result<Vec<u8>, String> {
    let fault = |error: lopdf::Error| format!("the PDF cannot be finished: {error}");
    let broken = |error: std::io::Error| format!("the PDF cannot be written: {error}");
    // PrintScaling came with 1.6; 1.7 is what ISO 32000-1 describes.
    "1.7".clone_into(&mut document.version);

    let pages: Vec<_> = document.get_pages().into_values().collect();
    let outline = (!about.bookmarks.is_empty()).then(|| outline(&mut document, &pages, about));
    let catalog = document.catalog_mut().map_err(fault)?;
    catalog.set("PageLayout", "SinglePage");
    let mut preferences = dictionary! { "PrintScaling" => "None", "DisplayDocTitle" => true };
    if about.one_sided {
        preferences.set("Duplex", "Simplex");
    }
    catalog.set("ViewerPreferences", preferences);
    // ISO 32000-1, 14.9.2: the language of all words of a document.
    catalog.set("Lang", Object::string_literal("en"));
    if !about.labels.is_empty() {
        catalog.set("PageLabels", page_labels(&about.labels));
    }
    if let Some(outline) = outline {
        catalog.set("Outlines", outline);
        catalog.set("PageMode", "UseOutlines");
    }

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
        if !sheet.viewports.is_empty() {
            let viewports = sheet.viewports.iter();
            let viewports = viewports.map(|viewport| measured(viewport, sheet.format).into());
            page.set("VP", viewports.collect::<Vec<Object>>());
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

    let info = document.add_object(information(&about.title, stamp));
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
pub(super) const ID_BYTES: usize = 16;

/// Writes a digest of the file into the two blank identifiers of its trailer.
pub(super) fn fill_in_identifier(bytes: &mut [u8]) -> Option<()> {
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
pub(super) fn compress(document: &mut Document) -> Result<(), CompressError> {
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
        format.drawn(viewport.area.min),
        format.drawn(viewport.area.max),
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

/// A count as PDF writes whole numbers.
pub(super) fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

/// A text string in UTF-16 (ISO 32000-1, 7.9.2.2).
pub(super) fn text(words: &str) -> Object {
    let units = words.encode_utf16().flat_map(u16::to_be_bytes);
    let bytes: Vec<u8> = [0xfe, 0xff].into_iter().chain(units).collect();
    Object::String(bytes, StringFormat::Hexadecimal)
}

/// The name of each page, as a number tree (ISO 32000-1, 12.4.2).
fn page_labels(labels: &[String]) -> Dictionary {
    let mut numbers = Vec::with_capacity(2 * labels.len());
    for (index, label) in labels.iter().enumerate() {
        numbers.push(Object::Integer(i64::try_from(index).unwrap_or(i64::MAX)));
        numbers.push(Object::Dictionary(dictionary! { "P" => text(label) }));
    }
    dictionary! { "Nums" => numbers }
}

/// The bookmarks, one after the other, each to the whole of its page (ISO 32000-1, 12.3.3).
fn outline(document: &mut Document, pages: &[ObjectId], about: &DocumentFacts) -> ObjectId {
    let root = document.new_object_id();
    let ids: Vec<ObjectId> = about
        .bookmarks
        .iter()
        .map(|_| document.new_object_id())
        .collect();
    for (index, (title, page)) in about.bookmarks.iter().enumerate() {
        let mut bookmark = dictionary! { "Title" => text(title), "Parent" => root };
        if let Some(page) = pages.get(*page) {
            let whole = vec![Object::Reference(*page), Object::Name(b"Fit".to_vec())];
            bookmark.set("Dest", whole);
        }
        if let Some(before) = index.checked_sub(1).and_then(|before| ids.get(before)) {
            bookmark.set("Prev", *before);
        }
        if let Some(after) = ids.get(index + 1) {
            bookmark.set("Next", *after);
        }
        document.set_object(ids[index], bookmark);
    }
    let mut outline = dictionary! { "Type" => "Outlines" };
    if let (Some(first), Some(last)) = (ids.first(), ids.last()) {
        outline.set("First", *first);
        outline.set("Last", *last);
        outline.set("Count", i64::try_from(ids.len()).unwrap_or(i64::MAX));
    }
    document.set_object(root, outline);
    root
}

pub(super) fn information(title: &str, stamp: &Stamp) -> Dictionary {
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
