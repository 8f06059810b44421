//! Something as wide as the text and as high as it comes, that stays together on a page.

use std::rc::Rc;

use jigless_model::geom::{Bounds, Point};

use super::sheet::LEADING;
use super::typeset::{Line, Run};
use crate::drawing::{Anchor, BookFace, Ink, Item, Pen, Role, TextLine, Turn, Weight};
use crate::pdf::book_page::{BookInk, Node};

/// A slab; 0,0 is its upper left corner, and y runs upward.
#[derive(Debug, Clone, Default)]
pub(super) struct Slab {
    /// Room over it, but at the top of a page, in millimetres.
    pub(super) above: f64,
    /// Its height, in millimetres.
    pub(super) height: f64,
    /// Whether it stays with the next one.
    pub(super) with_next: bool,
    /// Whether it begins a page.
    pub(super) new_page: bool,
    /// What stands over it where it begins a page.
    pub(super) head: Option<Rc<Slab>>,
    /// What is on it.
    pub(super) inks: Vec<BookInk>,
    /// What links to it are called.
    pub(super) anchors: Vec<String>,
    /// What readers list it as to jump to, and whether under another one.
    pub(super) bookmark: Option<(String, bool)>,
}

impl Slab {
    /// Moves what is on it.
    fn shift(&mut self, by: Point) {
        for ink in &mut self.inks {
            ink.offset = ink.offset + by;
        }
    }

    /// What is on it, moved.
    pub(super) fn moved(mut self, by: Point) -> Vec<BookInk> {
        self.shift(by);
        self.inks
    }

    /// Slabs one under the other as one.
    pub(super) fn stacked(slabs: Vec<Slab>) -> Slab {
        let mut whole = Slab::default();
        for (index, slab) in slabs.into_iter().enumerate() {
            if index == 0 {
                whole.above = slab.above;
            } else {
                whole.height += slab.above;
            }
            let down = Point::new(0.0, -whole.height);
            whole.height += slab.height;
            whole.anchors.extend(slab.anchors.iter().cloned());
            whole.bookmark = whole.bookmark.or_else(|| slab.bookmark.clone());
            whole.inks.extend(slab.moved(down));
        }
        whole
    }

    /// The same further to the right.
    pub(super) fn indented(mut self, by: f64) -> Slab {
        self.shift(Point::new(by, 0.0));
        self
    }

    /// The same as something that is not read again.
    pub(super) fn repeated(&self) -> Slab {
        let mut again = self.clone();
        for ink in &mut again.inks {
            ink.place.clear();
            ink.link = None;
        }
        again.anchors.clear();
        again.bookmark = None;
        again
    }
}

/// Words from a place on.
pub(super) fn text(at: Point, size: f64, face: BookFace, words: &str, ink: Ink) -> TextLine {
    TextLine {
        at,
        size,
        weight: Weight::Book(face),
        anchor: Anchor::Start,
        turn: Turn::Level,
        // What keeps words together is a space once lines are broken.
        words: words.replace('\u{a0}', " "),
        ink,
    }
}

/// Gives out the numbers of elements.
#[derive(Debug, Default)]
pub(super) struct Numbers {
    last: std::cell::Cell<u32>,
}

impl Numbers {
    /// A new element.
    pub(super) fn node(&self, tag: &'static str) -> Node {
        self.last.set(self.last.get() + 1);
        Node {
            tag,
            id: self.last.get(),
        }
    }

    /// Elements with a new one inside.
    pub(super) fn inside(&self, place: &[Node], tag: &'static str) -> Vec<Node> {
        let mut place = place.to_vec();
        place.push(self.node(tag));
        place
    }
}

/// How lines are set.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setting {
    /// Size, in millimetres.
    pub(super) size: f64,
    /// Colour.
    pub(super) ink: Ink,
    /// Width that lines end at, where they stand at the right.
    pub(super) right: Option<f64>,
}

impl Setting {
    /// Black words from the left.
    pub(super) fn black(size: f64) -> Self {
        Self {
            size,
            ink: Ink::BLACK,
            right: None,
        }
    }
}

/// Lines one under the other as a slab; links are elements of their own.
pub(super) fn set(
    numbers: &Numbers,
    place: &[Node],
    runs: &[Run],
    lines: &[Line],
    setting: Setting,
) -> Slab {
    let step = setting.size * LEADING;
    let mut inks: Vec<BookInk> = Vec::new();
    let mut links: Vec<Option<Vec<Node>>> = vec![None; runs.len()];
    for (index, line) in lines.iter().enumerate() {
        let up = -(setting.size * 1.02 + step * index as f64);
        let left = setting.right.map_or(0.0, |width| width - line.width);
        for piece in &line.pieces {
            let run = &runs[piece.run];
            let at = Point::new(left + piece.x, up);
            let ink = if run.link.is_some() {
                Ink(20, 60, 120)
            } else {
                setting.ink
            };
            let line = text(at, setting.size, run.face, &piece.words, ink);
            let item = Item::text(Role::Frame, line);
            let own = match &run.link {
                None => place.to_vec(),
                Some(_) => links[piece.run]
                    .get_or_insert_with(|| numbers.inside(place, "Link"))
                    .clone(),
            };
            match inks.last_mut() {
                Some(last) if run.link.is_none() && last.place == own => last.items.push(item),
                _ => inks.push(BookInk {
                    place: own,
                    items: vec![item],
                    offset: Point::default(),
                    link: run.link.clone(),
                    photograph: None,
                    alternative: None,
                }),
            }
        }
    }
    Slab {
        height: step * lines.len() as f64,
        inks,
        ..Slab::default()
    }
}

/// Something that is seen and not read: a rule, a box, a tint.
pub(super) fn unread(items: Vec<Item>) -> BookInk {
    BookInk {
        place: Vec::new(),
        items,
        offset: Point::default(),
        link: None,
        photograph: None,
        alternative: None,
    }
}

/// A level rule of a width, from a place to the right.
pub(super) fn rule(from: Point, width: f64, pen: f64, ink: Ink) -> Item {
    Item::line(
        Role::Frame,
        from,
        from + Point::new(width, 0.0),
        Pen::new(pen, ink),
    )
}

/// A box to tick beside the first line of words of a size.
pub(super) fn tick(left: f64, size: f64) -> Item {
    const SIDE: f64 = 3.1;
    let middle = -size * 0.66;
    let corner = Point::new(left + 0.2, middle - SIDE / 2.0);
    let bounds = Bounds::new(corner, corner + Point::new(SIDE, SIDE));
    Item::stroke(
        Role::Frame,
        jigless_model::geom::rectangle(bounds),
        Pen::new(0.25, Ink::BLACK),
    )
}
