//! Lines of words with a known place and size.

use jigless_model::geom::{Bounds, Point};

use super::font::{self, Weight};
use super::style::Ink;

/// Size of labels in millimetres: 9 pt, the least that reads at arm's length over a workbench.
pub(crate) const LABEL: f64 = 3.175;
/// From one line of words to the next, in sizes.
pub(crate) const LEADING: f64 = 1.15;

/// Which point of the line of words lies at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// Which way the words run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Turn {
    /// From left to right.
    Level,
    /// Upward, to be read from the right-hand side.
    Up,
}

/// A line of words.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct TextLine {
    /// Where it is: on the baseline, at the anchor.
    pub(crate) at: Point,
    /// Size in millimetres.
    pub(crate) size: f64,
    /// How heavy the letters are.
    pub(crate) weight: Weight,
    /// What of it lies at its place.
    pub(crate) anchor: Anchor,
    /// Which way it runs.
    pub(crate) turn: Turn,
    /// The words, as they can be shown.
    pub(crate) words: String,
    /// Colour.
    pub(crate) ink: Ink,
}

impl TextLine {
    /// A level line in the regular weight, black, from its beginning.
    pub(crate) fn new(at: Point, size: f64, words: &str) -> Self {
        Self {
            at,
            size,
            weight: Weight::Regular,
            anchor: Anchor::Start,
            turn: Turn::Level,
            words: font::showable(words),
            ink: Ink::BLACK,
        }
    }

    /// The same in bold.
    #[must_use]
    pub(crate) fn bold(mut self) -> Self {
        self.weight = Weight::Bold;
        self
    }

    /// The same at another anchor.
    #[must_use]
    pub(crate) fn anchored(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }

    /// The same running another way.
    #[must_use]
    pub(crate) fn turned(mut self, turn: Turn) -> Self {
        self.turn = turn;
        self
    }

    /// The same with words left out at its end, and an ellipsis for them, until it is no wider than `width` mm.
    #[must_use]
    pub(crate) fn fitted(mut self, width: f64) -> Self {
        if self.width() <= width {
            return self;
        }
        let mut letters: Vec<char> = self.words.chars().collect();
        while letters.pop().is_some() {
            self.words = letters.iter().collect::<String>().trim_end().to_owned() + "…";
            if self.width() <= width {
                break;
            }
        }
        self
    }

    /// Width of the words, in millimetres.
    pub(crate) fn width(&self) -> f64 {
        font::width(&self.words, self.weight) * self.size
    }

    /// Where the words begin.
    pub(crate) fn start(&self) -> Point {
        let back = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => self.width() / 2.0,
            Anchor::End => self.width(),
        };
        match self.turn {
            Turn::Level => self.at - Point::new(back, 0.0),
            Turn::Up => self.at - Point::new(0.0, back),
        }
    }

    /// The box around the words, from the lowest descender to the highest letter.
    pub(crate) fn bounds(&self) -> Bounds {
        let start = self.start();
        let (rise, fall) = font::rise_and_fall_in(&self.words, self.weight);
        let (down, up) = (fall * self.size, rise * self.size);
        match self.turn {
            Turn::Level => Bounds::new(
                start - Point::new(0.0, down),
                start + Point::new(self.width(), up),
            ),
            Turn::Up => Bounds::new(
                start - Point::new(up, 0.0),
                start + Point::new(down, self.width()),
            ),
        }
    }
}

/// Some lines of words, one under the other.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Block {
    /// The words, as they can be shown.
    pub(crate) lines: Vec<String>,
    /// Size in millimetres.
    pub(crate) size: f64,
    /// How heavy the letters are.
    pub(crate) weight: Weight,
    /// Colour.
    pub(crate) ink: Ink,
}

impl Block {
    /// Black lines of label size; empty ones are left out.
    pub(crate) fn label<'a>(lines: impl IntoIterator<Item = &'a str>) -> Self {
        let lines = lines.into_iter().map(font::showable);
        Self {
            lines: lines.filter(|line| !line.is_empty()).collect(),
            size: LABEL,
            weight: Weight::Regular,
            ink: Ink::BLACK,
        }
    }

    /// The same in another colour.
    #[must_use]
    pub(crate) fn inked(mut self, ink: Ink) -> Self {
        self.ink = ink;
        self
    }

    /// Width of the longest line and height of all lines, in millimetres, as read.
    pub(crate) fn extent(&self) -> (f64, f64) {
        let widths = self
            .lines
            .iter()
            .map(|line| font::width(line, self.weight) * self.size);
        let (rise, fall) = self.rise_and_fall();
        let height = (self.lines.len() as f64 - 1.0) * self.step() + rise + fall;
        (widths.fold(0.0, f64::max), height)
    }

    /// Top of the first line above its baseline and depth of the last under its own, in millimetres.
    fn rise_and_fall(&self) -> (f64, f64) {
        let of = |line: Option<&String>| {
            font::rise_and_fall(line.map(String::as_str).unwrap_or_default())
        };
        let (rise, fall) = (of(self.lines.first()).0, of(self.lines.last()).1);
        (rise * self.size, fall * self.size)
    }

    /// From one baseline to the next, in millimetres: letters of one line never reach those of the next.
    fn step(&self) -> f64 {
        let tallest = self.lines.iter().map(|line| {
            let (rise, fall) = font::rise_and_fall(line);
            rise + fall
        });
        tallest.fold(LEADING, f64::max) * self.size
    }

    /// The size of its box on the paper.
    pub(crate) fn footprint(&self, turn: Turn) -> (f64, f64) {
        let (width, height) = self.extent();
        match turn {
            Turn::Level => (width, height),
            Turn::Up => (height, width),
        }
    }

    /// The lines inside a box of the block's footprint.
    pub(crate) fn set(&self, inside: Bounds, anchor: Anchor, turn: Turn) -> Vec<TextLine> {
        let step = self.step();
        let first = self.rise_and_fall().0;
        let along = |from: f64, to: f64| match anchor {
            Anchor::Start => from,
            Anchor::Middle => f64::midpoint(from, to),
            Anchor::End => to,
        };
        let place = |index: usize| {
            let down = first + step * index as f64;
            match turn {
                Turn::Level => Point::new(along(inside.min.x, inside.max.x), inside.max.y - down),
                Turn::Up => Point::new(inside.min.x + down, along(inside.min.y, inside.max.y)),
            }
        };
        let lines = self.lines.iter().enumerate();
        lines
            .map(|(index, words)| TextLine {
                at: place(index),
                size: self.size,
                weight: self.weight,
                anchor,
                turn,
                words: words.clone(),
                ink: self.ink,
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_block_fills_its_footprint_and_no_more() {
        for (block, turn) in [
            Block::label(["H1 Ø35 front", "12.5 deep"]),
            Block::label(["Дверь", "12.5 deep", "½ → Ж"]),
        ]
        .into_iter()
        .flat_map(|block| [Turn::Level, Turn::Up].map(|turn| (block.clone(), turn)))
        {
            let (width, height) = block.footprint(turn);
            let inside = Bounds::new(Point::new(5.0, 7.0), Point::new(5.0 + width, 7.0 + height));
            for anchor in [Anchor::Start, Anchor::Middle, Anchor::End] {
                let all = block
                    .set(inside, anchor, turn)
                    .iter()
                    .map(TextLine::bounds)
                    .reduce(Bounds::union)
                    .unwrap();
                assert!(inside.contains_box(all, 1e-9), "{turn:?} {anchor:?}");
                assert!((all.width() - width).abs() < 1e-9);
                assert!((all.height() - height).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn a_text_is_cut_to_its_room() {
        let text = TextLine::new(Point::default(), 4.0, "a very long name of a part").fitted(20.0);
        assert!(
            text.width() <= 20.0 && text.words.ends_with('…'),
            "{text:?}"
        );
        let short = TextLine::new(Point::default(), 4.0, "door").fitted(20.0);
        assert_eq!(short.words, "door");
    }
}
