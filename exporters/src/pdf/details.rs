//! Pages for what had no room beside the work.

use jigless_model::geom::{Bounds, Point};

use super::card::Card;
use super::sheet::{Leaf, Sheet};
use crate::drawing::label::Placer;
use crate::drawing::text::LABEL;
use crate::drawing::{Anchor, Item, Role, Text};

/// Room for the title, in millimetres.
const TITLE: f64 = 10.0;

/// Puts cards where an area has room beside what is on it already; gives those that found none.
pub(super) fn place(
    area: Bounds,
    there: &[Item],
    cards: Vec<Card>,
    placed: &mut Vec<Item>,
) -> Vec<Card> {
    let mut placer = Placer::new(area, there);
    for item in there {
        // Nothing goes into a frame, where it would seem to belong.
        if let (Role::CheckBar, Some(bounds)) = (item.role, item.bounds()) {
            placer.reserve(bounds);
        }
    }
    let corner = Point::new(area.min.x, area.max.y);
    let mut left = Vec::new();
    for card in cards {
        match placer.free_box(card.size, corner) {
            Some(place) => {
                placed.extend(card.at(place.min));
                placer.reserve(place.grown(1.5));
            }
            None => left.push(card),
        }
    }
    left
}

/// As many pages as the cards take.
pub(super) fn pages(
    leaf: Leaf,
    part: &str,
    correction: Option<&str>,
    cards: &[Card],
) -> Vec<Sheet> {
    let printable = leaf.printable();
    let area = Bounds::new(printable.min, printable.max - Point::new(0.0, TITLE));
    let mut sheets = Vec::new();
    let mut left = cards.to_vec();
    while !left.is_empty() {
        let before = left.len();
        let mut items = title(printable, part, correction);
        left = place(area, &[], left, &mut items);
        if left.len() == before {
            // Larger than the paper: nothing can be done for it.
            break;
        }
        sheets.push(Sheet {
            leaf,
            items,
            viewport: None,
        });
    }
    sheets
}

fn title(printable: Bounds, part: &str, correction: Option<&str>) -> Vec<Item> {
    let at = Point::new(printable.min.x, printable.max.y - 6.0);
    let title = Text::new(at, 6.0, &format!("DETAILS, {part}")).bold();
    let end = printable.max - Point::new(0.0, 6.0);
    let note = match correction {
        Some(correction) => format!("sections 1:1 · {correction}"),
        None => "sections 1:1, no template".to_owned(),
    };
    let note = Text::new(end, LABEL, &note)
        .anchored(Anchor::End)
        .fitted(printable.width() * 0.6);
    let room = printable.width() - note.width() - 4.0;
    vec![
        Item::text(Role::Frame, title.fitted(room)),
        Item::text(Role::Frame, note),
    ]
}
