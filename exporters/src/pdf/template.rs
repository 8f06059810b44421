//! A template: a face, or some of the work on it, and the pages that show it.

use jigless_model::geom::Bounds;
use jigless_model::operation::Work;
use jigless_model::side::Face;
use jigless_model::view::FaceView;

use super::beside::{self, Beside, PlacingSteps};
use super::tiling::Tile;
use crate::drawing::caption::Caption;
use crate::drawing::face::FaceDrawing;
use crate::drawing::measure::Lengths;

/// The template of a face, or of some of the work on it.
#[derive(Debug)]
pub(super) struct Template<'a> {
    /// The work that it shows, and its face.
    pub(super) view: FaceView<'a>,
    /// Diameter of the collar that stops the bit of pockets, in millimetres.
    pub(super) collar: f64,
    /// The boxes of its flaps, in view coordinates.
    pub(super) flaps: Vec<Bounds>,
    /// How lengths are written.
    pub(super) lengths: Lengths,
    /// What is said of the part.
    pub(super) caption: Caption,
    /// What is shown of the face, in view coordinates.
    pub(super) drawing: FaceDrawing,
    /// The box around each item of the drawing.
    pub(super) boxes: Vec<Bounds>,
    /// Its pages, without blank ones.
    pub(super) tiles: Vec<Tile>,
    /// Whether it lies at the top of its area, with all that is free under it.
    pub(super) at_top: bool,
    /// What a small template knows beyond that.
    pub(super) small: Option<Small>,
    /// How it lies on the part.
    pub(super) placing: PlacingSteps,
}

/// What a small template knows beyond its drawing.
#[derive(Debug)]
pub(super) struct Small {
    /// Its number among the small templates of the face, from 1.
    pub(super) number: usize,
    /// The box around its work, in view coordinates.
    pub(super) work: Bounds,
}

impl Template<'_> {
    /// The face that it is for.
    pub(super) fn face(&self) -> Face {
        self.view.face
    }

    /// The name of a page: `B2` of a whole face, `2` of small templates.
    pub(super) fn page_name(&self, index: usize) -> String {
        match &self.small {
            Some(small) => small.number.to_string(),
            None => self.tiles.get(index).map(Tile::name).unwrap_or_default(),
        }
    }

    /// What is to be read beside a page, its words in a size. A page of a whole face has the depths of its own holes.
    pub(super) fn beside(&self, index: usize, size: f64) -> Beside {
        let (None, Some(tile)) = (&self.small, self.tiles.get(index)) else {
            return self.cards(&self.view, size);
        };
        let mut view = self.view.clone();
        view.operations.retain(|operation| match &operation.work {
            Work::Drill(drill) => tile.core.contains(drill.centre, 0.0),
            Work::AngledBore(bore) => tile.core.contains(bore.entry, 0.0),
            _ => false,
        });
        view.edge_work.retain(|operation| match &operation.work {
            Work::EdgeDrill(hole) => {
                let (at, _) = crate::view_edge::outward(&self.view, hole.edge, hole.along);
                tile.core.contains(at, 0.0)
            }
            _ => false,
        });
        self.cards(&view, size)
    }

    fn cards(&self, view: &FaceView, size: f64) -> Beside {
        beside::cards(view, &self.placing, self.collar, self.lengths, size)
    }
}
