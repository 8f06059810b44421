//! The template of one face: its drawing, and the pages that it takes.

use jigless_core::export::ExportInput;
use jigless_core::geom::Bounds;
use jigless_core::side::Face;
use jigless_core::units::Unit;
use jigless_core::workpiece::Workpiece;

use super::PdfTemplateOptions;
use super::paper::{LONGEST, Orientation, SHORTEST};
use super::tile_page;
use super::tiling::{Tile, Tiling};
use crate::drawing::Role;
use crate::drawing::caption::Caption;
use crate::drawing::clip;
use crate::drawing::face::{self, FaceDrawing};
use crate::drawing::measure::Lengths;

/// The template of one face.
#[derive(Debug)]
pub(super) struct Template {
    /// Which face.
    pub(super) face: Face,
    /// Width and height of the part, in millimetres.
    pub(super) part_size: (f64, f64),
    /// The unit of every number.
    pub(super) unit: Unit,
    /// What every page says.
    pub(super) caption: Caption,
    /// The face in view coordinates.
    pub(super) drawing: FaceDrawing,
    /// The box around each item of the drawing.
    pub(super) boxes: Vec<Bounds>,
    /// Width and height of its pages, in millimetres.
    pub(super) size: (f64, f64),
    /// Its pages, without blank ones.
    pub(super) tiles: Vec<Tile>,
}

impl Template {
    /// Draws a face and splits it over pages.
    pub(super) fn new(
        input: &ExportInput,
        workpiece: &Workpiece,
        face: Face,
        options: &PdfTemplateOptions,
    ) -> Self {
        let lengths = Lengths {
            unit: input.plan.units,
        };
        let view = workpiece.seen_from(face);
        let drawing = face::draw(&view, options.inks.into(), lengths);
        let boxes: Vec<Bounds> = drawing
            .items
            .iter()
            .map(|item| item.bounds().unwrap_or(Bounds::of_size(0.0, 0.0)))
            .collect();
        let sizes = page_sizes(drawing.extent, lengths.unit, options);
        let (size, tiles) = sizes
            .into_iter()
            .map(|size| {
                (
                    size,
                    worked_tiles(&drawing, &boxes, size, lengths.unit, options),
                )
            })
            // The first of those with the fewest pages.
            .reduce(|best, next| {
                if next.1.len() < best.1.len() {
                    next
                } else {
                    best
                }
            })
            .unwrap_or(((0.0, 0.0), Vec::new()));
        Self {
            face,
            part_size: (view.width, view.height),
            unit: lengths.unit,
            caption: Caption::new(input, &workpiece.part, face, lengths),
            drawing,
            boxes,
            size,
            tiles,
        }
    }
}

/// The sizes of page that may be used for a drawing, the preferred one first.
fn page_sizes(extent: Bounds, unit: Unit, options: &PdfTemplateOptions) -> Vec<(f64, f64)> {
    let Some((width, height)) = options.paper.size() else {
        // A roll is cut where the drawing ends.
        let frame = 1000.0 - tile_page::room((1000.0, 1000.0), unit).1;
        let height = (extent.height() + frame).ceil().clamp(SHORTEST, LONGEST);
        return vec![(options.roll_width, height)];
    };
    match options.orientation {
        Orientation::Auto => vec![(width, height), (height, width)],
        Orientation::Portrait => vec![(width, height)],
        Orientation::Landscape => vec![(height, width)],
    }
}

/// The tiles of a drawing that have anything on them.
fn worked_tiles(
    drawing: &FaceDrawing,
    boxes: &[Bounds],
    size: (f64, f64),
    unit: Unit,
    options: &PdfTemplateOptions,
) -> Vec<Tile> {
    let centres: Vec<_> = drawing.holes.iter().map(|hole| hole.centre).collect();
    let room = tile_page::room(size, unit);
    let tiling = Tiling::new(drawing.extent, room, options.overlap, &centres);
    let has_words = |tile: &Tile| {
        drawing
            .wishes
            .iter()
            .any(|wish| wish.role == Role::Mark && tile.core.contains(wish.target.place(), 0.0))
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
