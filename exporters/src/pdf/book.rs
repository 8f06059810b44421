//! A document that is read, as a PDF: embedded fonts, links, bookmarks, a language, and the tree of what is read.

use std::collections::BTreeMap;

use jigless_model::export::Stamp;
use jigless_model::geom::Bounds;
use jigless_model::units::mm_to_points;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};

use super::book_fonts::fonts;
use super::book_page::{BookInk, BookPage, Bookmark, Landing, Target};
use super::book_tree::Tree;
use super::content::{Fonts, Marked, marked_stream};
use super::finish::{ID_BYTES, compress, fill_in_identifier, information, text, whole};
use super::photographs::Photographs;
use crate::drawing::Item;

/// What a document says of itself.
pub(crate) struct BookFacts<'a> {
    /// Its title.
    pub(crate) title: &'a str,
    /// Its language by its tag (BCP 47).
    pub(crate) language: &'a str,
    /// What readers list to jump to.
    pub(crate) bookmarks: &'a [Bookmark],
    /// Where the anchors are.
    pub(crate) anchors: &'a BTreeMap<String, Landing>,
}

/// A whole document.
pub(crate) fn book(
    pages: &[BookPage],
    facts: &BookFacts,
    stamp: &Stamp,
) -> Result<Vec<u8>, String> {
    let mut document = Document::with_version("1.7");
    let (book, named) = fonts(&mut document, pages)?;
    let fonts = Fonts {
        regular: "",
        bold: "",
        embedded: "",
        glyphs: Vec::new(),
        book: Some(book),
    };
    let photographs = Photographs::of(&mut document, pages)?;
    let mut resources = dictionary! { "Font" => named };
    if !photographs.named.is_empty() {
        resources.set("XObject", photographs.named.clone());
    }
    let resources = document.add_object(resources);
    let all = document.new_object_id();
    let ids: Vec<ObjectId> = pages.iter().map(|_| document.new_object_id()).collect();
    let mut tree = Tree::new(&mut document);
    for (page, id) in pages.iter().zip(&ids) {
        let mut written = marked(&mut document, &mut tree, (page, *id), &fonts, &photographs);
        let links = links(&mut document, &mut tree, page, *id, (&ids, facts.anchors));
        if !links.is_empty() {
            written.set("Annots", links);
            // The order of keys is that of the tree (ISO 32000-1, Table 30).
            written.set("Tabs", "S");
        }
        written.set("Parent", all);
        written.set("Resources", resources);
        document.set_object(*id, written);
    }
    document.set_object(
        all,
        dictionary! {
            "Type" => "Pages",
            "Kids" => ids.iter().map(|id| Object::Reference(*id)).collect::<Vec<_>>(),
            "Count" => whole(ids.len()),
        },
    );
    let tree = tree.finish(&mut document);
    let mut catalog = dictionary! {
        "Type" => "Catalog",
        "Pages" => all,
        "Lang" => Object::string_literal(facts.language),
        "PageLayout" => "SinglePage",
        "ViewerPreferences" => dictionary! { "DisplayDocTitle" => true },
        "MarkInfo" => dictionary! { "Marked" => true },
        "StructTreeRoot" => tree,
    };
    if !facts.bookmarks.is_empty() {
        let outline = outline(&mut document, &ids, facts.bookmarks);
        catalog.set("Outlines", outline);
        catalog.set("PageMode", "UseOutlines");
    }
    let catalog = document.add_object(catalog);
    document.trailer.set("Root", catalog);
    let info = document.add_object(information(facts.title, stamp));
    document.trailer.set("Info", info);
    written(document)
}

/// The bytes, packed, with an identifier made from them.
fn written(mut document: Document) -> Result<Vec<u8>, String> {
    compress(&mut document).map_err(|error| format!("the PDF cannot be compressed: {error}"))?;
    let blank = Object::String(vec![0; ID_BYTES], StringFormat::Hexadecimal);
    document.trailer.set("ID", vec![blank.clone(), blank]);
    let mut bytes = Vec::new();
    document
        .save_to(&mut bytes)
        .map_err(|error| format!("the PDF cannot be written: {error}"))?;
    fill_in_identifier(&mut bytes).ok_or("the PDF has no identifier to fill in")?;
    Ok(bytes)
}

/// A page with its content, each piece of it known to the tree.
fn marked(
    document: &mut Document,
    tree: &mut Tree,
    (page, id): (&BookPage, ObjectId),
    fonts: &Fonts,
    photographs: &Photographs,
) -> Dictionary {
    let number = tree.number();
    let (mut groups, mut parents) = (Vec::new(), Vec::new());
    for ink in &page.inks {
        let tag = ink.place.last().and_then(|node| {
            let element = tree.add(document, ink, (id, parents.len()))?;
            parents.push(Object::Reference(element));
            Some((node.tag, parents.len() - 1))
        });
        groups.push(Marked {
            tag,
            items: &ink.items,
            photograph: ink
                .photograph
                .as_ref()
                .map_or_else(String::new, |one| photographs.shown(one)),
        });
    }
    tree.belongs(number, Object::Array(parents));
    let content = marked_stream(page.format, &groups, fonts);
    let content = document.add_object(Stream::new(Dictionary::new(), content));
    let size = [0.0, 0.0, page.format.size.0, page.format.size.1].map(points);
    dictionary! {
        "Type" => "Page",
        "MediaBox" => size.to_vec(),
        "Contents" => content,
        "StructParents" => whole(number),
    }
}

/// The links of a page.
fn links(
    document: &mut Document,
    tree: &mut Tree,
    page: &BookPage,
    id: ObjectId,
    (pages, anchors): (&[ObjectId], &BTreeMap<String, Landing>),
) -> Vec<Object> {
    let mut links = Vec::new();
    for ink in &page.inks {
        let Some(target) = &ink.link else { continue };
        let Some(bounds) = around(ink) else { continue };
        let mut link = dictionary! {
            "Type" => "Annot",
            "Subtype" => "Link",
            "Rect" => [bounds.min.x, bounds.min.y, bounds.max.x, bounds.max.y].map(points).to_vec(),
            "Border" => vec![Object::Integer(0), Object::Integer(0), Object::Integer(0)],
            "F" => 4,
        };
        match target {
            Target::Anchor(name) => {
                let Some(landing) = anchors.get(name) else {
                    continue;
                };
                link.set("Dest", destination(pages, landing));
                link.set("Contents", text(name));
            }
            Target::Web(address) => {
                let action = dictionary! {
                    "S" => "URI", "URI" => Object::string_literal(address.as_str()),
                };
                link.set("A", action);
                link.set("Contents", text(address));
            }
        }
        let number = tree.number();
        link.set("StructParent", whole(number));
        let annotation = document.add_object(link);
        if let Some(element) = tree.annotate(document, &ink.place, (id, annotation)) {
            tree.belongs(number, Object::Reference(element));
        }
        links.push(Object::Reference(annotation));
    }
    links
}

fn around(ink: &BookInk) -> Option<Bounds> {
    ink.items
        .iter()
        .filter_map(Item::bounds)
        .reduce(Bounds::union)
}

fn destination(pages: &[ObjectId], landing: &Landing) -> Vec<Object> {
    let page = pages.get(landing.page).copied().unwrap_or_default();
    vec![
        Object::Reference(page),
        Object::Name(b"XYZ".to_vec()),
        Object::Null,
        points(landing.up),
        Object::Null,
    ]
}

/// Millimetres as points, to a hundredth.
fn points(mm: f64) -> Object {
    Object::Real(((mm_to_points(mm) * 100.0).round() / 100.0) as f32)
}

/// The bookmarks in two levels (ISO 32000-1, 12.3.3); the lower ones are folded up.
fn outline(document: &mut Document, pages: &[ObjectId], bookmarks: &[Bookmark]) -> ObjectId {
    let root = document.new_object_id();
    let ids: Vec<ObjectId> = bookmarks.iter().map(|_| document.new_object_id()).collect();
    // For each bookmark, the one that it stands under.
    let mut above: Vec<Option<usize>> = Vec::new();
    let mut last = None;
    for (index, bookmark) in bookmarks.iter().enumerate() {
        if bookmark.below {
            above.push(last);
        } else {
            last = Some(index);
            above.push(None);
        }
    }
    let under = |parent: Option<usize>| -> Vec<usize> {
        (0..ids.len())
            .filter(|index| above[*index] == parent)
            .collect()
    };
    for (index, bookmark) in bookmarks.iter().enumerate() {
        let parent = above[index].map_or(root, |parent| ids[parent]);
        let mut entry = dictionary! {
            "Title" => text(&bookmark.title),
            "Parent" => parent,
            "Dest" => destination(pages, &bookmark.to),
        };
        let beside = under(above[index]);
        let own = beside.iter().position(|other| *other == index).unwrap_or(0);
        if let Some(before) = own.checked_sub(1) {
            entry.set("Prev", ids[beside[before]]);
        }
        if let Some(after) = beside.get(own + 1) {
            entry.set("Next", ids[*after]);
        }
        let kids = under(Some(index));
        if let (false, Some(first), Some(last)) = (bookmark.below, kids.first(), kids.last()) {
            entry.set("First", ids[*first]);
            entry.set("Last", ids[*last]);
            entry.set("Count", -whole(kids.len()));
        }
        document.set_object(ids[index], entry);
    }
    let top = under(None);
    let mut outline = dictionary! { "Type" => "Outlines", "Count" => whole(top.len()) };
    if let (Some(first), Some(last)) = (top.first(), top.last()) {
        outline.set("First", ids[*first]);
        outline.set("Last", ids[*last]);
    }
    document.set_object(root, outline);
    root
}
