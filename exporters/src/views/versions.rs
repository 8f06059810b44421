//! Two versions of the whole side by side, with what changed standing out.

use jigless_model::export::ExportInput;
use jigless_model::geom::{Bounds, Point};

use super::options::LookOptions;
use super::page::Page;
use super::scene::{Marking, Whole};
use crate::drawing::{Item, Role, TextLine};
use crate::svg::paint;

/// Height of the words over each version, in millimetres.
const LETTERS: f64 = 5.0;

/// An SVG with the whole as it was and as it is, the changed parts in blue in both; nothing where no part has a place.
pub fn versions(before: &ExportInput, after: &ExportInput, changed: &[&str]) -> Option<String> {
    let look = LookOptions::default();
    let camera = look.camera();
    let wholes = [("before", before), ("after", after)].map(|(heading, input)| {
        let whole = Whole::new(input);
        (heading, input, whole)
    });
    let page = |plan| Page {
        plan,
        look: &look,
        cautions: Vec::new(),
        words: &jigless_words::ENGLISH,
    };
    // One scale for both, so that growth is seen.
    let scale = wholes
        .iter()
        .map(|(_, input, whole)| page(input.plan).scale(&[&whole.closed()], &camera))
        .fold(1.0, f64::min);
    let mut items: Vec<Item> = Vec::new();
    let mut paper: Option<Bounds> = None;
    for (heading, input, whole) in &wholes {
        if whole.pieces.is_empty() {
            continue;
        }
        let scene = whole.with_accents(|id| changed.contains(&id));
        let (own, drawn) = page(input.plan).drawn(&[&scene], scale, &camera, Marking::Accents);
        let left = paper.map_or(0.0, |paper| paper.max.x);
        let shift = Point::new(left - own.min.x, -own.min.y);
        items.extend(drawn.iter().map(|item| item.moved(shift)));
        let at = Point::new(left + LETTERS, own.height());
        items.push(Item::text(Role::Note, TextLine::new(at, LETTERS, heading)));
        let own = Bounds::new(
            Point::new(left, 0.0),
            Point::new(left + own.width(), own.height() + 2.0 * LETTERS),
        );
        paper = Some(paper.map_or(own, |paper| paper.union(own)));
    }
    let title = format!("{}, before and after", after.plan.title);
    paper.map(|paper| paint::document(paper, &title, "", &items))
}
