//! The seams of a page: where it meets its neighbours.

use jigless_model::geom::{Bounds, Point};
use jigless_model::side::Edge;

use super::page_frame::join_mark;
use super::tiling::Tile;
use crate::drawing::{Dash, Ink, Item, Pen, Role};

/// What is drawn for the seams of a page, and where they leave room.
pub(super) struct Seams {
    /// Dotted lines and join marks.
    pub(super) items: Vec<Item>,
    /// The strips beyond the seams, and what is to be written on them.
    pub(super) strips: Vec<(Bounds, String)>,
    /// Where labels may go: on the page's own side of a seam, and up to the frame where there is none.
    pub(super) label_area: Bounds,
}

/// The seams between a tile and its neighbours. `origin` is where the part's 0,0 lies on the page, `area` the page's
/// drawing area.
pub(super) fn draw(tiles: &[Tile], tile: &Tile, origin: Point, area: Bounds) -> Seams {
    let (core, window) = (tile.core.moved(origin), tile.window.moved(origin));
    let mut seams = Seams {
        items: Vec::new(),
        strips: Vec::new(),
        label_area: area,
    };
    for edge in Edge::ALL {
        let Some(name) = neighbour(tiles, tile, edge) else {
            continue;
        };
        let (mut strip, mut ends) = (core, window);
        match edge {
            Edge::Left => {
                (strip.min.x, strip.max.x) = (window.min.x, core.min.x);
                (ends.min.x, ends.max.x) = (core.min.x, core.min.x);
                seams.label_area.min.x = core.min.x;
            }
            Edge::Right => {
                (strip.min.x, strip.max.x) = (core.max.x, window.max.x);
                (ends.min.x, ends.max.x) = (core.max.x, core.max.x);
                seams.label_area.max.x = core.max.x;
            }
            Edge::Bottom => {
                (strip.min.y, strip.max.y) = (window.min.y, core.min.y);
                (ends.min.y, ends.max.y) = (core.min.y, core.min.y);
                seams.label_area.min.y = core.min.y;
            }
            Edge::Top => {
                (strip.min.y, strip.max.y) = (core.max.y, window.max.y);
                (ends.min.y, ends.max.y) = (core.max.y, core.max.y);
                seams.label_area.max.y = core.max.y;
            }
        }
        let pen = Pen::new(0.15, Ink::BLACK).dashed(Dash::Fold);
        seams
            .items
            .push(Item::line(Role::Join, ends.min, ends.max, pen));
        // The quarter points of the page's own side are the neighbour's too.
        for share in [0.25, 0.75] {
            let at = if edge.is_upright() {
                Point::new(ends.min.x, core.min.y + core.height() * share)
            } else {
                Point::new(core.min.x + core.width() * share, ends.min.y)
            };
            seams.items.extend(join_mark(at));
        }
        let words = match edge {
            Edge::Left | Edge::Bottom => format!("cut off here, lay on {name}"),
            Edge::Right | Edge::Top => format!("{name} goes on top here"),
        };
        seams.strips.push((strip, words));
    }
    seams
}

/// The name of the page on the other side of an edge, if it is not blank.
fn neighbour(tiles: &[Tile], tile: &Tile, edge: Edge) -> Option<String> {
    let (columns, rows) = match edge {
        Edge::Left => (-1, 0),
        Edge::Right => (1, 0),
        Edge::Bottom => (0, -1),
        Edge::Top => (0, 1),
    };
    let column = tile.column.checked_add_signed(columns)?;
    let row = tile.row.checked_add_signed(rows)?;
    tiles
        .iter()
        .find(|other| other.column == column && other.row == row)
        .map(Tile::name)
}
