//! The map of the pages: where each lies on the part.

use jigless_core::geom::{Bounds, Point, rectangle};

use super::sheet::centred;
use super::tiling::Tile;
use crate::drawing::face::FaceDrawing;
use crate::drawing::{Ink, Item, Pen, Role};

/// The map of some pages inside a box. The page `here` is filled; names are written where they fit.
pub(super) fn draw(
    inside: Bounds,
    part: Bounds,
    drawing: &FaceDrawing,
    tiles: &[Tile],
    here: Option<usize>,
) -> Vec<Item> {
    let extent = drawing.extent;
    let scale = (inside.width() / extent.width()).min(inside.height() / extent.height());
    let corner =
        inside.centre() - Point::new(extent.width() * scale / 2.0, extent.height() * scale / 2.0);
    let place = |p: Point| corner + (p - extent.min) * scale;
    let shrink = |b: Bounds| Bounds::new(place(b.min), place(b.max));

    let mut items = Vec::new();
    if let Some(tile) = here.and_then(|index| tiles.get(index)) {
        items.push(Item::fill(
            Role::Frame,
            rectangle(shrink(tile.core)),
            Ink(190, 190, 190),
        ));
    }
    let outline = Item::stroke(
        Role::Frame,
        rectangle(shrink(part)),
        Pen::new(0.3, Ink::BLACK),
    );
    items.push(outline);
    for tile in tiles {
        let cell = shrink(tile.core);
        let pen = Pen::new(0.1, Ink::BLACK);
        items.push(Item::stroke(Role::Frame, rectangle(cell), pen));
        let size = (cell.height() * 0.5).min(5.0);
        let name = centred(cell, size, &tile.name());
        if size >= 2.2 && name.width() < cell.width() * 0.9 {
            items.push(Item::text(Role::Frame, name));
        }
    }
    items
}
