//! The whole of a face, split over as many pages as it takes.

use jigless_model::geom::Bounds;
use jigless_model::units::Unit;
use jigless_model::view::FaceView;

use super::edges;
use super::options::PdfTemplateOptions;
use super::page_format::PageFormat;
use super::page_frame;
use super::paper::{LONGEST, SHORTEST};
use super::registration;
use super::tiling::{Tile, Tiling};
use crate::drawing::Role;
use crate::drawing::clip;
use crate::drawing::face::{self, FaceDrawing};
use crate::drawing::measure::Lengths;

/// What is drawn of a face, before what is to be read beside it.
pub(super) struct ShownFace {
    /// Its lines and labels.
    pub(super) drawing: FaceDrawing,
    /// The boxes of what is drawn.
    pub(super) boxes: Vec<Bounds>,
    /// Its paper.
    pub(super) format: PageFormat,
    /// Its pages that have anything on them.
    pub(super) tiles: Vec<Tile>,
    /// Its flaps.
    pub(super) flaps: Vec<Bounds>,
}

/// The whole face, its pages filled to a share of what they can show.
pub(super) fn shown(
    view: &FaceView,
    options: &PdfTemplateOptions,
    lengths: Lengths,
    share: f64,
) -> ShownFace {
    let mut drawing = face::draw(view, options.inks.into(), lengths);
    let flaps = flaps_of_whole(view, &mut drawing, options, lengths);
    let boxes = boxes(&drawing);
    let unit = lengths.bar_unit();
    let formats = formats(drawing.extent, unit, options).into_iter();
    let (format, tiles) = formats
        .map(|format| {
            let (width, height) = page_frame::room(format, unit);
            let room = (width, height * share);
            (format, worked_tiles(&drawing, &boxes, room, options))
        })
        // The first of those with the fewest pages.
        .reduce(|best, next| {
            if next.1.len() < best.1.len() {
                next
            } else {
                best
            }
        })
        .unwrap_or((options.page_format((0.0, 0.0)), Vec::new()));
    ShownFace {
        drawing,
        boxes,
        format,
        tiles,
        flaps,
    }
}

/// Lines of the edges, and a flap over each edge that carries marks.
fn flaps_of_whole(
    view: &FaceView,
    drawing: &mut FaceDrawing,
    options: &PdfTemplateOptions,
    lengths: Lengths,
) -> Vec<Bounds> {
    let registered = registration::over_marked_edges(view, options.inks.into(), lengths);
    edges::draw(view, &mut drawing.items, &registered.folded);
    let flaps = registered.flaps.iter();
    drawing.extent = flaps.fold(drawing.extent, |extent, flap| extent.union(flap.grown(1.0)));
    drawing.items.extend(registered.items);
    drawing.requests.splice(0..0, registered.requests);
    registered.flaps
}

/// The boxes of what is drawn.
pub(super) fn boxes(drawing: &FaceDrawing) -> Vec<Bounds> {
    let items = drawing.items.iter();
    items
        .map(|item| item.bounds().unwrap_or(Bounds::of_size(0.0, 0.0)))
        .collect()
}

/// The pages that may be used for a drawing, the preferred one first.
pub(super) fn formats(extent: Bounds, unit: Unit, options: &PdfTemplateOptions) -> Vec<PageFormat> {
    let sizes = match options.paper.size() {
        // A roll is cut where the drawing ends.
        None => {
            let probe = options.page_format((1000.0, 1000.0));
            let frame = 1000.0 - page_frame::room(probe, unit).1;
            let height = (extent.height() + frame).ceil().clamp(SHORTEST, LONGEST);
            vec![(options.roll_width, height)]
        }
        Some(size) => options.orientation.sizes(size),
    };
    sizes
        .into_iter()
        .map(|size| options.page_format(size))
        .collect()
}

/// The tiles of a drawing that have anything on them.
fn worked_tiles(
    drawing: &FaceDrawing,
    boxes: &[Bounds],
    room: (f64, f64),
    options: &PdfTemplateOptions,
) -> Vec<Tile> {
    let centres: Vec<_> = drawing.holes.iter().map(|hole| hole.centre).collect();
    let tiling = Tiling::new(drawing.extent, room, options.overlap, &centres);
    let has_words = |tile: &Tile| {
        drawing.requests.iter().any(|request| {
            request.role == Role::Mark && tile.core.contains(request.target.place(), 0.0)
        })
    };
    let has_ink = |tile: &Tile| {
        drawing
            .items
            .iter()
            .zip(boxes)
            .filter(|(_, bounds)| bounds.intersection(tile.core).is_some())
            .any(|(item, _)| clip::reaches(item, tile.core))
    };
    tiling
        .tiles()
        .filter(|tile| has_ink(tile) || has_words(tile))
        .collect()
}
