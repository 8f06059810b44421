//! Pages for what had no room beside the work.

use jigless_model::geom::{Bounds, Point};

use super::card::Card;
use super::page_format::PageFormat;
use super::page_frame;
use super::paper_sheet::PaperSheet;
use crate::drawing::label_layout::LabelLayout;
use crate::drawing::{Item, Role};

/// Puts cards where an area has room beside what is on it already; gives those that found none.
pub(super) fn place(
    area: Bounds,
    there: &[Item],
    cards: Vec<Card>,
    placed: &mut Vec<Item>,
) -> Vec<Card> {
    let mut layout = LabelLayout::new(area, there);
    for item in there {
        // Nothing goes into a frame, where it would seem to belong.
        if let (Role::CheckBar, Some(bounds)) = (item.role, item.bounds()) {
            layout.reserve(bounds);
        }
    }
    let corner = Point::new(area.min.x, area.max.y);
    let mut left = Vec::new();
    for card in cards {
        match layout.free_box(card.size, corner) {
            Some(place) => {
                placed.extend(card.at(place.min));
                layout.reserve(place.grown(1.5));
            }
            None => left.push(card),
        }
    }
    left
}

/// As many pages as the cards take.
pub(super) fn pages(
    format: PageFormat,
    title: &str,
    correction: Option<&str>,
    cards: &[Card],
) -> Vec<PaperSheet> {
    let note = match correction {
        Some(correction) => format!("sections 1:1 · {correction}"),
        None => "sections 1:1, no template".to_owned(),
    };
    let area = page_frame::below_title(format);
    let mut sheets = Vec::new();
    let mut left = cards.to_vec();
    while !left.is_empty() {
        let before = left.len();
        let mut items = page_frame::title(format, title, &note);
        left = place(area, &[], left, &mut items);
        if left.len() == before {
            // Larger than the paper: nothing can be done for it.
            break;
        }
        sheets.push(PaperSheet {
            format,
            items,
            viewports: Vec::new(),
        });
    }
    sheets
}
