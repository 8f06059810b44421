//! Pages for what had no room beside the work.

use jigless_core::geom::{Bounds, Point};

use super::card::Card;
use super::sheet::{Leaf, Sheet};
use crate::drawing::label::Placer;
use crate::drawing::text::LABEL;
use crate::drawing::{Anchor, Item, Role, Text};

/// Room for the title, in millimetres.
const TITLE: f64 = 10.0;

/// As many pages as the cards take.
pub(super) fn pages(
    leaf: Leaf,
    part: &str,
    correction: Option<&str>,
    cards: &[Card],
) -> Vec<Sheet> {
    let printable = leaf.printable();
    let area = Bounds::new(printable.min, printable.max - Point::new(0.0, TITLE));
    let corner = Point::new(area.min.x, area.max.y);
    let mut sheets: Vec<(Vec<Item>, Placer)> = Vec::new();
    for card in cards {
        if sheets
            .last()
            .is_none_or(|(_, placer)| placer.free_box(card.size, corner).is_none())
        {
            sheets.push((title(printable, part, correction), Placer::new(area, &[])));
        }
        let Some((items, placer)) = sheets.last_mut() else {
            continue;
        };
        // A card that fits no empty page is larger than the paper; it is begun at its corner all the same.
        if let Some(place) = placer.free_box(card.size, corner) {
            items.extend(card.at(place.min));
            placer.reserve(place.grown(1.5));
        }
    }
    let sheets = sheets.into_iter();
    sheets
        .map(|(items, _)| Sheet {
            leaf,
            items,
            viewport: None,
        })
        .collect()
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
