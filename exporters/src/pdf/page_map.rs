//! A small picture of a face: where the pages lie on it, and for a handed pair which of the two it is.

use jigless_model::geom::{Bounds, Path, Point, Vertex, circle, rectangle};

use super::template::Template;
use crate::drawing::label::{LabelRequest, LabelTarget};
use crate::drawing::label_layout::LabelLayout;
use crate::drawing::text::Block;
use crate::drawing::{Anchor, Dash, Ink, Item, ItemShape, Pen, Role, TextLine};

/// Dots for holes are left out where there are more than this: they would be a grey smear.
const MOST_DOTS: usize = 60;
/// Radius of a dot, in millimetres.
const DOT: f64 = 0.35;
/// Room for the arrow that points to the top, in millimetres.
const ARROW: f64 = 4.0;
/// Between the two of a pair, in millimetres.
const BETWEEN: f64 = 1.5;

/// The picture of the pages of a template inside a box. The page `here` is filled; names are written where they fit.
pub(super) fn draw(inside: Bounds, template: &Template, here: Option<usize>) -> Vec<Item> {
    let part = Bounds::of_size(template.part_size.0, template.part_size.1);
    let tiles = template.tiles.iter().map(|tile| tile.core);
    let extent = tiles.fold(part, Bounds::union);
    let mut room = inside;
    room.max.x -= ARROW;
    let mut items = arrow(Bounds::new(
        Point::new(room.max.x, inside.min.y),
        inside.max,
    ));
    // Seen from behind, the two of a pair stand the other way about.
    let beside = template
        .caption
        .hand
        .map(|hand| hand.stands_right ^ (template.face == jigless_model::side::Face::Back));
    if let Some(right) = beside {
        let middle = f64::midpoint(room.min.x, room.max.x);
        let mut other = room;
        if right {
            room.min.x = middle + BETWEEN / 2.0;
            other.max.x = middle - BETWEEN / 2.0;
        } else {
            room.max.x = middle - BETWEEN / 2.0;
            other.min.x = middle + BETWEEN / 2.0;
        }
        let frame = MapTransform::new(other, extent, true);
        let pen = Pen::new(0.15, Ink::GREY).dashed(Dash::Hidden);
        items.extend(contours(template, &frame, pen));
    }
    let frame = MapTransform::new(room, extent, false);
    if let Some(tile) = here.and_then(|index| template.tiles.get(index)) {
        let filled = Item::fill(
            Role::Frame,
            rectangle(frame.shrink(tile.core)),
            Ink(190, 190, 190),
        );
        items.push(filled);
    }
    items.extend(contours(template, &frame, Pen::new(0.3, Ink::BLACK)));
    let cells = template.tiles.iter().map(|tile| frame.shrink(tile.core));
    let cells: Vec<Bounds> = cells.collect();
    for cell in &cells {
        let pen = Pen::new(0.1, Ink::BLACK);
        items.push(Item::stroke(Role::Frame, rectangle(*cell), pen));
    }
    if template.small.is_none() {
        let mut layout = LabelLayout::new(inside, &items);
        for (index, cell) in cells.into_iter().enumerate() {
            let size = (cell.height() * 0.5).min(5.0);
            if size < 2.2 {
                continue;
            }
            let name = Block {
                size,
                ..Block::label([template.page_name(index).as_str()])
            };
            let request = LabelRequest::new(Role::Frame, LabelTarget::Inside(cell), vec![name]);
            items.extend(layout.place(&request).into_iter().flatten());
        }
    }
    let holes = &template.drawing.holes;
    if template.small.is_some() && holes.len() <= MOST_DOTS {
        let dots = holes
            .iter()
            .map(|hole| circle(frame.place(hole.centre), DOT));
        items.extend(dots.map(|dot| Item::fill(Role::Frame, dot, Ink::BLACK)));
    }
    items
}

/// From the face to the picture.
struct MapTransform {
    corner: Point,
    from: Point,
    scale: f64,
    /// Width of what is shown, where it is shown as its mirror image.
    mirrored: Option<f64>,
}

impl MapTransform {
    fn new(inside: Bounds, extent: Bounds, mirrored: bool) -> Self {
        let scale = (inside.width() / extent.width()).min(inside.height() / extent.height());
        let half = Point::new(extent.width(), extent.height()) * (scale / 2.0);
        Self {
            corner: inside.centre() - half,
            from: extent.min,
            scale,
            mirrored: mirrored.then_some(extent.width()),
        }
    }

    fn place(&self, point: Point) -> Point {
        let mut off = point - self.from;
        if let Some(width) = self.mirrored {
            off.x = width - off.x;
        }
        self.corner + off * self.scale
    }

    fn shrink(&self, bounds: Bounds) -> Bounds {
        Bounds::new(self.place(bounds.min), self.place(bounds.max))
    }

    fn path(&self, path: &Path) -> Path {
        let turned = if self.mirrored.is_some() { -1.0 } else { 1.0 };
        let vertices = path.vertices.iter().map(|vertex| Vertex {
            point: self.place(vertex.point),
            bulge: vertex.bulge * turned,
        });
        Path {
            vertices: vertices.collect(),
            closed: path.closed,
        }
    }
}

fn contours(template: &Template, frame: &MapTransform, pen: Pen) -> Vec<Item> {
    let items = template.drawing.items.iter();
    items
        .filter_map(|item| match &item.shape {
            ItemShape::Stroke(path, _) if item.role == Role::Contour && path.closed => {
                Some(Item::stroke(Role::Frame, frame.path(path), pen))
            }
            _ => None,
        })
        .collect()
}

/// An arrow to the top of the part.
fn arrow(inside: Bounds) -> Vec<Item> {
    let middle = inside.centre();
    let (low, high) = (middle - Point::new(0.0, 5.0), middle + Point::new(0.0, 3.5));
    let pen = Pen::new(0.3, Ink::BLACK);
    let head = [
        high + Point::new(-1.2, -2.2),
        high,
        high + Point::new(1.2, -2.2),
    ];
    let words = TextLine::new(middle + Point::new(0.0, 4.2), 2.4, "top").anchored(Anchor::Middle);
    vec![
        Item::line(Role::Frame, low, high, pen),
        Item::stroke(Role::Frame, Path::of_points(head, false), pen),
        Item::text(Role::Frame, words),
    ]
}
