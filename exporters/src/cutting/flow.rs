//! Entries one under the other, over as many pages as it takes. An entry is never broken over two pages.

use jigless_model::geom::{Bounds, Point};

use crate::drawing::text::LABEL;
use crate::drawing::{Item, Role, TextLine, Weight};
use crate::pdf::card::wrapped_in;
use crate::pdf::page_frame::tick_box;

/// Size of what is read at arm's length, in millimetres: 11 pt.
pub(crate) const READING: f64 = 3.88;
/// Size of a heading among entries, in millimetres: 14 pt.
const HEADING: f64 = 4.94;
/// From one line of words to the next, in sizes.
const STEP: f64 = 1.3;
/// Side of a box to tick, in millimetres.
const TICK: f64 = 3.2;

/// Words in a column of an entry.
#[derive(Debug, Clone, PartialEq)]
struct Column {
    /// Where it begins, in millimetres from the left.
    x: f64,
    /// How wide it is; to the right end without it.
    width: Option<f64>,
    words: String,
    bold: bool,
}

/// A line or a few of words that stay together.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Entry {
    columns: Vec<Column>,
    tick: bool,
    size: f64,
    /// Room above it, in millimetres.
    above: f64,
    /// Whether it stays with the next one.
    with_next: bool,
    /// What stands over the next page, where what follows goes on there.
    goes_on: Option<String>,
}

/// What an entry says, for who sets it otherwise.
pub(crate) enum CutEntry {
    /// Words.
    Note(String),
    /// What holds for all that follows.
    Setting(String),
    /// A number and its words.
    Numbered(String, String),
}

impl Entry {
    /// What it says.
    pub(super) fn cut_entry(&self) -> CutEntry {
        let words = |index: usize| {
            let column = self.columns.get(index);
            column.map_or_else(String::new, |column| column.words.clone())
        };
        if self.tick {
            CutEntry::Numbered(words(0), words(1))
        } else if self.goes_on.is_some() {
            CutEntry::Setting(words(0))
        } else {
            CutEntry::Note(words(0))
        }
    }

    /// Plain words over the whole width.
    pub(crate) fn plain(words: impl Into<String>) -> Self {
        Self {
            columns: Vec::new(),
            tick: false,
            size: READING,
            above: 0.0,
            with_next: false,
            goes_on: None,
        }
        .and(0.0, None, words, false)
    }

    /// Bold words that stay with what follows.
    pub(crate) fn bold(words: impl Into<String>) -> Self {
        let mut entry = Self::plain(words);
        entry.columns[0].bold = true;
        entry.with_next = true;
        entry.above = 2.0;
        entry
    }

    /// A heading.
    pub(crate) fn heading(words: impl Into<String>) -> Self {
        Self {
            size: HEADING,
            above: 4.0,
            ..Self::bold(words)
        }
    }

    /// Bold words that hold for all that follows, up to the next bold ones: on each page anew, as `goes_on`.
    pub(crate) fn holding(words: impl Into<String>, goes_on: impl Into<String>) -> Self {
        let mut entry = Self::bold(words);
        entry.goes_on = Some(goes_on.into());
        entry
    }

    /// A box to tick, a number, and words.
    pub(crate) fn numbered(number: u32, words: impl Into<String>) -> Self {
        let mut entry = Self::plain(number.to_string()).and(15.0, None, words, false);
        entry.columns[0].x = 6.0;
        entry.columns[0].width = Some(9.0);
        entry.columns[0].bold = true;
        entry.tick = true;
        entry.above = 0.8;
        entry
    }

    /// A row of a table: where each column begins, and its words. Words stay inside their column.
    pub(crate) fn row(columns: &[(f64, String)], bold: bool) -> Self {
        let mut entry = Self::plain("");
        entry.columns.clear();
        for (index, (x, words)) in columns.iter().enumerate() {
            let next = columns.get(index + 1).map(|(next, _)| next - x - 2.0);
            entry = entry.and(*x, next, words.clone(), bold);
        }
        entry.with_next = bold;
        entry
    }

    /// The same with a box to tick at its beginning.
    #[must_use]
    pub(crate) fn ticked(mut self) -> Self {
        self.tick = true;
        self
    }

    /// The same behind a box to tick, so that all its lines begin beside the box.
    #[must_use]
    pub(crate) fn indented_tick(mut self) -> Self {
        for column in &mut self.columns {
            column.x += 6.0;
        }
        self.above = 0.8;
        self.ticked()
    }

    /// The same in the size of labels.
    #[must_use]
    pub(crate) fn small(mut self) -> Self {
        self.size = LABEL;
        self
    }

    fn and(mut self, x: f64, width: Option<f64>, words: impl Into<String>, bold: bool) -> Self {
        self.columns.push(Column {
            x,
            width,
            words: words.into(),
            bold,
        });
        self
    }

    fn lines(&self, width: f64) -> Vec<Vec<String>> {
        let of = |column: &Column| {
            let room = column.width.unwrap_or(width - column.x);
            let weight = if column.bold {
                Weight::Bold
            } else {
                Weight::Regular
            };
            wrapped_in(&column.words, room * LABEL / self.size, weight)
        };
        self.columns.iter().map(of).collect()
    }

    fn height(&self, width: f64) -> f64 {
        let lines = self.lines(width);
        let most = lines.iter().map(Vec::len).max().unwrap_or(1);
        most as f64 * self.size * STEP
    }

    /// What it draws under a point at its upper left.
    fn draw(&self, at: Point, width: f64) -> Vec<Item> {
        let mut items = Vec::new();
        let first = at.y - self.size;
        if self.tick {
            let corner = Point::new(at.x + 0.2, first - 0.1 * self.size);
            items.push(tick_box(corner, TICK));
        }
        for (column, lines) in self.columns.iter().zip(self.lines(width)) {
            for (index, words) in lines.iter().enumerate() {
                let at = Point::new(at.x + column.x, first - index as f64 * self.size * STEP);
                let mut text = TextLine::new(at, self.size, words);
                if column.bold {
                    text = text.bold();
                }
                items.push(Item::text(Role::Frame, text));
            }
        }
        items
    }
}

/// The entries in a box, from its top; what has no room is handed back.
pub(crate) fn fill(area: Bounds, entries: &[Entry]) -> (Vec<Item>, &[Entry]) {
    let width = area.width();
    let mut y = area.max.y;
    let mut items = Vec::new();
    let mut index = 0;
    while index < entries.len() {
        let together = 1 + entries[index..]
            .iter()
            .take_while(|entry| entry.with_next)
            .count();
        let group = &entries[index..entries.len().min(index + together)];
        let height: f64 = group
            .iter()
            .enumerate()
            .map(|(place, entry)| {
                let at_top = items.is_empty() && place == 0;
                entry.height(width) + if at_top { 0.0 } else { entry.above }
            })
            .sum();
        // What is higher than a page runs on rather than never to be shown.
        if y - height < area.min.y && !items.is_empty() {
            break;
        }
        for entry in group {
            if !items.is_empty() {
                y -= entry.above;
            }
            let lower = y - entry.height(width);
            if lower < area.min.y && !items.is_empty() {
                return (items, &entries[index..]);
            }
            items.extend(entry.draw(Point::new(area.min.x, y), width));
            y = lower;
            index += 1;
        }
    }
    (items, &entries[index..])
}

/// The entries over as many boxes as it takes.
pub(crate) fn over_pages(area: Bounds, entries: &[Entry]) -> Vec<Vec<Item>> {
    let mut pages = Vec::new();
    let mut waiting = entries.to_vec();
    while !waiting.is_empty() {
        let (items, rest) = fill(area, &waiting);
        let taken = waiting.len() - rest.len();
        if taken == 0 {
            break;
        }
        pages.push(items);
        let mut next = rest.to_vec();
        if next.first().is_some_and(|entry| !entry.with_next) {
            let last = waiting[..taken].iter().rfind(|entry| entry.with_next);
            let goes_on = last.and_then(|entry| entry.goes_on.clone());
            if let Some(words) = goes_on {
                next.insert(0, Entry::holding(words.clone(), words));
            }
        }
        waiting = next;
    }
    pages
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A heading is never the last line of a page, it is repeated where what it holds for goes on, and nothing is lost.
    #[test]
    fn headings_stay_with_what_follows() {
        let area = Bounds::of_size(120.0, 60.0);
        let entries: Vec<Entry> = (0..40)
            .map(|number| match number % 4 {
                0 => Entry::holding(format!("heading {number}"), format!("more of {number}")),
                _ => Entry::numbered(number, format!("words {number}")),
            })
            .collect();
        let pages = over_pages(area, &entries);
        let mut written = Vec::new();
        for page in &pages {
            let words: Vec<String> = page
                .iter()
                .filter_map(|item| match &item.shape {
                    crate::drawing::ItemShape::Text(text) => Some(text.words.clone()),
                    _ => None,
                })
                .collect();
            assert!(!words.last().unwrap().starts_with("heading"), "{words:?}");
            assert!(
                ["heading", "more of"]
                    .iter()
                    .any(|word| words[0].starts_with(word)),
                "{words:?}"
            );
            written.extend(words);
            for item in page {
                assert!(area.contains_box(item.bounds().unwrap(), 1e-6), "{item:?}");
            }
        }
        for number in 0..40 {
            let wanted = if number % 4 == 0 { "heading" } else { "words" };
            let wanted = format!("{wanted} {number}");
            assert_eq!(
                written.iter().filter(|words| **words == wanted).count(),
                1,
                "{wanted}"
            );
        }
    }
}
