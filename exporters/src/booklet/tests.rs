//! Every page of the booklets of our plans: nothing lies on anything else or outside, no page is empty, no heading ends one,
//! no type is too small, and nothing of the document is lost.

use std::path::PathBuf;
use std::sync::LazyLock;

use jigless_core::arrange::arrange;
use jigless_core::load::IncludeReader;
use jigless_model::export::{ExportInput, Stamp};
use jigless_model::geom::{Bounds, Point};

use super::pages::{Booklet, booklet};
use super::sheet::{LEAST, text_area};
use crate::document::{Block, Document, DocumentOptions, document};
use crate::drawing::probe::collisions;
use crate::drawing::{Item, ItemShape};
use crate::pdf::book_page::{BookInk, Target};

/// The demo plans, one more in inches, and one with words of its author.
const PLANS: [&str; 5] = [
    "glaze-cabinet",
    "glazing-trolley",
    "thread-organiser",
    "cutting/fabric-shelves",
    "features/document",
];
/// A4 and Letter.
const SIZES: [(f64, f64); 2] = [(210.0, 297.0), (215.9, 279.4)];
/// Home printers leave this blank, in millimetres.
const BLANK: f64 = 6.0;

struct Beside(PathBuf);

impl IncludeReader for Beside {
    fn read(&self, path: &str) -> Result<Vec<u8>, String> {
        std::fs::read(self.0.join(path)).map_err(|error| error.to_string())
    }
}

/// A plan's name, its document, and its booklets with the sizes of their pages.
type Made = (&'static str, Document, Vec<(Booklet, (f64, f64))>);

static MADE: LazyLock<Vec<Made>> = LazyLock::new(|| PLANS.iter().map(|plan| made(plan)).collect());

fn made(name: &'static str) -> Made {
    let fixtures = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../fixtures");
    let folder = fixtures.join(name);
    let text = std::fs::read(folder.join("plan.yaml")).expect("a plan");
    let compiled = jigless_core::compile("plan.yaml", &text, &Beside(folder));
    let (plan, workpieces) = compiled.result.expect("the plan has no errors");
    let stamp = Stamp::new("jigless", None);
    let options = DocumentOptions::default();
    let arrangement = arrange(&workpieces, &options.saw.settings());
    let input = ExportInput::new(&plan, &workpieces, &stamp).on_sheets(&arrangement);
    let document = document(&input, &options);
    let booklets = SIZES.map(|size| (booklet(&document, size), size));
    (name, document, booklets.into())
}

/// Looks at the document of a plan and its booklets.
fn with(plan: &str, look: impl Fn(&Document, &Booklet, (f64, f64))) {
    let (_, document, booklets) = MADE
        .iter()
        .find(|(name, ..)| *name == plan)
        .expect("a plan");
    for (booklet, size) in booklets {
        look(document, booklet, *size);
    }
}

fn items(inks: &[BookInk]) -> Vec<Item> {
    inks.iter().flat_map(|ink| ink.items.clone()).collect()
}

fn words(inks: &[BookInk]) -> Vec<String> {
    let all = items(inks);
    let texts = all.iter().filter_map(|item| match &item.shape {
        ItemShape::Text(text) => Some(text.words.clone()),
        _ => None,
    });
    texts.collect()
}

/// The box around what is drawn, a photograph too.
fn around(ink: &BookInk) -> Option<Bounds> {
    let photograph = ink.photograph.iter().map(|(_, bounds)| *bounds);
    let boxes = ink.items.iter().filter_map(Item::bounds).chain(photograph);
    boxes.reduce(Bounds::union)
}

/// What is wrong with a page.
fn faults(inks: &[BookInk], size: (f64, f64)) -> Vec<String> {
    let mut faults = Vec::new();
    let paper = Bounds::of_size(size.0, size.1).grown(-BLANK);
    let area = text_area(size);
    let (read, foot) = inks.split_at(inks.len() - 1);
    // What is drawn in a picture is looked at by the tests of its own; here it must keep to its place.
    let (figures, running): (Vec<&BookInk>, Vec<&BookInk>) = read
        .iter()
        .partition(|ink| ink.place.last().is_some_and(|node| node.tag == "Figure"));
    for item in items(read) {
        let bounds = item.bounds().expect("ink");
        if !area.grown(0.6).contains_box(bounds, 1e-6) {
            faults.push(format!("{item:?} reaches out of the text"));
        }
    }
    let mut all: Vec<Item> = running.iter().flat_map(|ink| ink.items.clone()).collect();
    all.extend(items(foot));
    for (words, touched) in collisions(&all, paper) {
        faults.push(format!("`{words}` touches {touched}"));
    }
    for figure in figures {
        let around = around(figure).expect("a picture");
        if !area.grown(0.6).contains_box(around, 1e-6) {
            faults.push(format!("a picture reaches out of the text: {around:?}"));
        }
        for item in &all {
            if let ItemShape::Text(text) = &item.shape
                && text.bounds().overlaps(around, 0.2)
            {
                faults.push(format!("`{}` lies on a picture", text.words));
            }
        }
    }
    if words(read).is_empty() {
        faults.push("the page is empty".to_owned());
    }
    let lowest = read
        .iter()
        .filter(|ink| !ink.place.is_empty())
        .filter_map(|ink| Some((around(ink)?.min.y, ink)))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((_, ink)) = lowest {
        let tags: Vec<&str> = ink.place.iter().map(|node| node.tag).collect();
        if ["H2", "H3", "TH"].iter().any(|tag| tags.contains(tag)) {
            let ink = [ink.clone()];
            faults.push(format!("the heading {:?} ends the page", words(&ink)));
        }
    }
    for item in items(inks) {
        if let ItemShape::Text(text) = &item.shape
            && text.size < LEAST - 1e-6
        {
            faults.push(format!("`{}` is {} mm high", text.words, text.size));
        }
    }
    faults
}

#[test]
fn every_page_is_clean() {
    for plan in PLANS {
        with(plan, |_, booklet, size| {
            for (index, page) in booklet.pages.iter().enumerate() {
                let faults = faults(&page.inks, size);
                assert!(
                    faults.is_empty(),
                    "{plan}, {size:?}, page {}: {faults:#?}",
                    index + 1
                );
            }
        });
    }
}

/// The probe itself: a page that is spoilt is not clean.
#[test]
fn faults_are_seen() {
    with("features/document", |_, booklet, size| {
        let page = &booklet.pages[1].inks;
        let mut moved = page.clone();
        for item in &mut moved[0].items {
            *item = item.moved(Point::new(0.0, -8.0));
        }
        assert!(!faults(&moved, size).is_empty());
        let only_foot = &page[page.len() - 1..];
        assert!(!faults(only_foot, size).is_empty());
    });
}

#[test]
fn links_lead_somewhere_and_pages_are_right() {
    for plan in PLANS {
        with(plan, |document, booklet, _| {
            let links = booklet.pages.iter().flat_map(|page| &page.inks);
            let mut seen = 0;
            for ink in links {
                if let Some(Target::Anchor(name)) = &ink.link {
                    assert!(booklet.anchors.contains_key(name), "{plan}: {name}");
                    seen += 1;
                }
            }
            assert!(seen > document.sections.len(), "{plan}: {seen}");
            let contents = words(&booklet.pages[1].inks);
            for section in &document.sections {
                let page = booklet.anchors[section.id].page;
                let at = contents.iter().position(|words| words == section.title);
                let number = &contents[at.expect("an entry") + 1];
                assert_eq!(*number, (page + 1).to_string(), "{plan}: {}", section.title);
                let there = words(&booklet.pages[page].inks);
                assert!(there.iter().any(|words| words == section.title), "{plan}");
            }
        });
    }
}

/// Every act, check and cut of the document has its words on some page.
#[test]
fn nothing_is_lost() {
    for plan in PLANS {
        with(plan, |document, booklet, _| {
            let pages = booklet.pages.iter().map(|page| words(&page.inks).join(" "));
            let all = pages.collect::<Vec<_>>().join(" ");
            let all: String = all
                .chars()
                .filter(|c| !c.is_whitespace() && *c != '-')
                .collect();
            let mut looked_for = 0;
            for block in document.sections.iter().flat_map(|section| &section.blocks) {
                let Block::Step(step) = block else { continue };
                for said in step.acts.iter().chain(&step.checks).chain(&step.cautions) {
                    let said: String = said
                        .chars()
                        .filter(|c| !c.is_whitespace() && *c != '-')
                        .collect();
                    assert!(all.contains(&said), "{plan}: {said}");
                    looked_for += 1;
                }
            }
            assert!(looked_for > 3, "{plan}");
        });
    }
}
