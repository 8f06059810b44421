//! Sheets as a PDF. Nothing here knows of parts: it paints strokes, areas and words, in millimetres, as they come.
//!
//! The library makes the document, its pages and its fonts from pages that only name the fonts; what the pages draw is
//! written by [`content`] and put in its place by [`finish`].

use jigless_model::export::Stamp;
use jigless_model::units::mm_to_points;
use printpdf::{
    BuiltinFont, FontId, Op, PdfDocument, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, Rect,
    TextItem,
};

use super::content::{self, Fonts};
use super::document_facts::DocumentFacts;
use super::embed;
use super::finish;
use super::page_format::PageFormat;
use super::paper_sheet::PaperSheet;
use crate::drawing::ItemShape;
use crate::drawing::font::{self, Typeface};

/// Resource name of the embedded typeface.
const EMBEDDED: &str = "Wide";

/// A whole document.
pub(crate) fn document(
    sheets: &[PaperSheet],
    about: &DocumentFacts,
    stamp: &Stamp,
) -> Result<Vec<u8>, String> {
    let mut document = PdfDocument::new(&about.title);
    let mut fonts = Fonts {
        regular: BuiltinFont::Helvetica.get_pdf_id(),
        bold: BuiltinFont::HelveticaBold.get_pdf_id(),
        embedded: EMBEDDED,
        glyphs: Vec::new(),
        book: None,
    };
    let items = sheets.iter().flat_map(|sheet| &sheet.items);
    let wide: Vec<&str> = items
        .filter_map(|item| match &item.shape {
            ItemShape::Text(text) => Some(text.words.as_str()),
            _ => None,
        })
        .filter(|words| font::typeface(words) == Typeface::Embedded)
        .collect();
    let mut naming = [BuiltinFont::Helvetica, BuiltinFont::HelveticaBold]
        .map(PdfFontHandle::Builtin)
        .map(naming_font)
        .to_vec();
    if !wide.is_empty() {
        let (subset, glyphs) = embed::subset(&wide)?;
        fonts.glyphs = glyphs;
        let id = FontId(EMBEDDED.to_owned());
        document.resources.fonts.map.insert(id.clone(), subset);
        naming.push(naming_font(PdfFontHandle::External(id)));
        let letters = fonts.glyphs.iter().map(|(letter, _)| letter).collect();
        naming.push(Op::ShowText {
            items: vec![TextItem::Text(letters)],
        });
    }
    // What the first page names, all pages have.
    document.pages = sheets
        .iter()
        .map(|sheet| empty_page(sheet.format))
        .collect();
    if let Some(first) = document.pages.first_mut() {
        first.ops = naming;
    }
    let mut warnings = Vec::new();
    let raw = document.to_lopdf_document(&PdfSaveOptions::default(), &mut warnings);
    let contents = sheets
        .iter()
        .map(|sheet| content::stream(sheet.format, &sheet.items, &fonts));
    finish::finish(raw, sheets, contents, about, stamp)
}

fn naming_font(font: PdfFontHandle) -> Op {
    Op::SetFont {
        font,
        size: Pt(1.0),
    }
}

fn empty_page(format: PageFormat) -> PdfPage {
    let full = Rect::from_wh(points(format.size.0), points(format.size.1));
    PdfPage {
        media_box: full.clone(),
        trim_box: full.clone(),
        crop_box: full,
        ops: Vec::new(),
    }
}

/// Millimetres as points, to a ten-thousandth. Rounded before it becomes an f32.
fn points(mm: f64) -> Pt {
    Pt(((mm_to_points(mm) * 10_000.0).round() / 10_000.0) as f32)
}
