//! Pages of a document that is read, with what everything on them is.

use std::sync::Arc;

use jigless_model::geom::{Bounds, Point};
use jigless_model::photograph::Picture;

use super::page_format::PageFormat;
use crate::drawing::Item;

/// A page.
#[derive(Debug)]
pub(crate) struct BookPage {
    /// Its paper.
    pub(crate) format: PageFormat,
    /// What is on it, in the order in which it is read.
    pub(crate) inks: Vec<BookInk>,
}

/// Something on a page that is read as one.
#[derive(Debug, Clone)]
pub(crate) struct BookInk {
    /// What it is, from the outermost inward; empty for what is not read.
    pub(crate) place: Vec<Node>,
    /// What is drawn.
    pub(crate) items: Vec<Item>,
    /// A photograph, and the box that it fills, in millimetres.
    pub(crate) photograph: Option<(Arc<Picture>, Bounds)>,
    /// By how much it is still to be moved.
    pub(crate) offset: Point,
    /// Where it leads.
    pub(crate) link: Option<Target>,
    /// Its words for who does not see it.
    pub(crate) alternative: Option<String>,
}

/// An element of the tree of what is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Node {
    /// What it is: a standard structure type (ISO 32000-1, 14.8.4).
    pub(crate) tag: &'static str,
    /// The same number is the same element, on whatever page.
    pub(crate) id: u32,
}

/// Where a link leads.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Target {
    /// To an anchor, by its name.
    Anchor(String),
    /// To a page of the web.
    Web(String),
}

/// A place that links lead to.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Landing {
    /// The number of its page, from 0.
    pub(crate) page: usize,
    /// How far up on it, in millimetres.
    pub(crate) up: f64,
}

/// An entry of what readers list to jump to.
#[derive(Debug)]
pub(crate) struct Bookmark {
    /// What it is called.
    pub(crate) title: String,
    /// Whether it stands under the last one that does not.
    pub(crate) below: bool,
    /// Where it leads.
    pub(crate) to: Landing,
}
