//! A template: a face, or some of the work on it, and the pages that show it.

use jigless_model::geom::Bounds;
use jigless_model::side::Face;
use jigless_model::units::Unit;

use super::card::Card;
use super::page_format::PageFormat;
use super::tiling::Tile;
use crate::drawing::caption::Caption;
use crate::drawing::face::FaceDrawing;
use crate::drawing::measure::Lengths;

/// The template of a face, or of some of the work on it.
#[derive(Debug)]
pub(super) struct Template {
    /// Which face.
    pub(super) face: Face,
    /// Width and height of the part, in millimetres.
    pub(super) part_size: (f64, f64),
    /// How lengths are written.
    pub(super) lengths: Lengths,
    /// What every page says.
    pub(super) caption: Caption,
    /// What is shown of the face, in view coordinates.
    pub(super) drawing: FaceDrawing,
    /// The box around each item of the drawing.
    pub(super) boxes: Vec<Bounds>,
    /// Its paper.
    pub(super) format: PageFormat,
    /// Its pages, without blank ones.
    pub(super) tiles: Vec<Tile>,
    /// What a small template knows beyond that.
    pub(super) small: Option<Small>,
    /// What is to be read beside the work.
    pub(super) cards: Vec<Card>,
}

/// What a small template knows beyond its drawing.
#[derive(Debug)]
pub(super) struct Small {
    /// Its number among the small templates of the face, from 1.
    pub(super) number: usize,
    /// The boxes of its flaps, in view coordinates.
    pub(super) flaps: Vec<Bounds>,
}

impl Template {
    /// The name of a page: `B2` of a whole face, `2` of small templates.
    pub(super) fn page_name(&self, index: usize) -> String {
        match &self.small {
            Some(small) => small.number.to_string(),
            None => self.tiles.get(index).map(Tile::name).unwrap_or_default(),
        }
    }

    /// The unit of its check bars: inches beside millimetres where inches are read.
    pub(super) fn bars(&self) -> Unit {
        self.lengths.bar_unit()
    }
}
