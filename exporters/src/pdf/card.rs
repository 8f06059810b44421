//! Small blocks of words and drawings that stand wherever a page has room for them.

use jigless_model::geom::Point;

use crate::drawing::section::Section;
use crate::drawing::text::LABEL;
use crate::drawing::{Item, Role, TextLine, Weight, font};

/// Size of large type in millimetres: to be read from the machine.
pub(super) const LARGE: f64 = 6.0;
/// Size of words where there is no room for larger ones, in millimetres: 7 pt.
pub(super) const SMALL: f64 = 2.47;
/// From one line of words to the next, in sizes.
const LEADING: f64 = 1.25;

/// A block of words and drawings.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Card {
    /// Width and height in millimetres.
    pub(super) size: (f64, f64),
    /// What is on it, from its lower left corner.
    pub(super) items: Vec<Item>,
}

/// Words of a card, one under the other.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum CardLine {
    /// In large bold type.
    Large(String),
    /// In bold type.
    Bold(String),
    /// In plain type, broken where it is too long.
    Plain(String),
    /// With a box to tick before it.
    Tick(String),
}

impl Card {
    /// Words at label size, no wider than `width` in millimetres.
    pub(super) fn of_words(lines: &[CardLine], width: f64) -> Self {
        Self::of_words_at(lines, width, LABEL)
    }

    /// Words of a size, no wider than `width` in millimetres.
    pub(super) fn of_words_at(lines: &[CardLine], width: f64, size: f64) -> Self {
        let mut card = Self {
            size: (0.0, 0.0),
            items: Vec::new(),
        };
        let line = |words: &str| TextLine::new(Point::default(), size, words);
        // Downward from 0, and moved up in the end.
        for of in lines {
            match of {
                CardLine::Large(words) => {
                    for words in wrapped_at(words, width, Weight::Bold, LARGE) {
                        card.write(TextLine::new(Point::default(), LARGE, &words).bold(), 0.0);
                    }
                }
                CardLine::Bold(words) => {
                    for words in wrapped_at(words, width, Weight::Bold, size) {
                        card.write(line(&words).bold(), 0.0);
                    }
                }
                CardLine::Plain(words) => {
                    for words in wrapped_at(words, width, Weight::Bold, size) {
                        card.write(line(&words), 0.0);
                    }
                }
                CardLine::Tick(words) => {
                    let lines = wrapped_at(words, width - 4.0, Weight::Bold, size);
                    for (index, words) in lines.iter().enumerate() {
                        card.write(line(words), 4.0);
                        if index == 0 {
                            let at = Point::new(0.15, -card.size.1 + 0.2 * size);
                            card.items
                                .push(super::page_frame::tick_box(at, 0.76 * size));
                        }
                    }
                }
            }
        }
        card.lifted()
    }

    fn write(&mut self, text: TextLine, indent: f64) {
        let size = text.size;
        self.size.1 += size * LEADING;
        let at = Point::new(indent, -self.size.1 + size * (font::DESCENT + 0.03));
        let text = TextLine { at, ..text };
        self.size.0 = self.size.0.max(indent + text.width());
        self.items.push(Item::text(Role::Frame, text));
    }

    fn lifted(mut self) -> Self {
        let up = Point::new(0.0, self.size.1);
        self.items = self.items.iter().map(|item| item.moved(up)).collect();
        self
    }

    /// A section with its names over it and its numbers beside it.
    pub(super) fn of_section(section: &Section, ids: &str, size: f64) -> Self {
        let mut lines = vec![
            CardLine::Large(format!("{}: {ids}", section.stop)),
            CardLine::Bold("side section, 1:1".to_owned()),
        ];
        lines.extend(section.lines.iter().cloned().map(CardLine::Plain));
        let words = Card::of_words_at(&lines, 82.0, size);
        let gap = 2.0;
        let drawing = section.bounds;
        let up = Point::new(0.0, drawing.height() + gap);
        let mut items: Vec<Item> = words.items.iter().map(|item| item.moved(up)).collect();
        items.extend(section.items.iter().cloned());
        Self {
            size: (
                words.size.0.max(drawing.width()),
                words.size.1 + gap + drawing.height(),
            ),
            items,
        }
    }

    /// The same card, at least so wide, so that cards in a column stand in one line.
    #[must_use]
    pub(super) fn padded_to(mut self, width: f64) -> Self {
        self.size.0 = self.size.0.max(width);
        self
    }

    /// What is on it, at a place of the page.
    pub(super) fn at(&self, corner: Point) -> impl Iterator<Item = Item> + '_ {
        self.items.iter().map(move |item| item.moved(corner))
    }
}

/// Words of a weight broken into lines no wider than `width` millimetres at label size.
pub(crate) fn wrapped_in(words: &str, width: f64, weight: Weight) -> Vec<String> {
    wrapped_at(words, width, weight, LABEL)
}

/// Words of a weight and a size broken into lines no wider than `width` millimetres.
pub(super) fn wrapped_at(words: &str, width: f64, weight: Weight, size: f64) -> Vec<String> {
    let shown = font::showable(words);
    let fits = |line: &str| font::width(line, weight) * size <= width;
    let mut lines: Vec<&str> = Vec::new();
    let (mut start, mut end) = (0, 0);
    for word in shown.split(' ') {
        let after = if end == 0 { 0 } else { end + 1 } + word.len();
        if end > start && !fits(&shown[start..after]) {
            lines.push(&shown[start..end]);
            start = end + 1;
        }
        end = after;
    }
    lines.push(&shown[start..end]);
    // A single word that is wider than the line is cut.
    lines
        .into_iter()
        .map(|line| {
            let text = TextLine::new(Point::default(), size, line);
            TextLine { weight, ..text }.fitted(width).words
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stay_inside_their_card() {
        let lines = [
            CardLine::Large("STOP 12.5 mm".to_owned()),
            CardLine::Plain(
                "cup centre from the left edge: 6.35 mm + 35 mm / 2 = 23.85 mm".to_owned(),
            ),
            CardLine::Tick("Drill scrap of the same thickness first.".to_owned()),
        ];
        let card = Card::of_words(&lines, 50.0);
        let whole = jigless_model::geom::Bounds::of_size(card.size.0, card.size.1);
        assert!(card.size.0 <= 50.0, "{:?}", card.size);
        for item in &card.items {
            assert!(whole.contains_box(item.bounds().unwrap(), 0.1), "{item:?}");
        }
    }
}
