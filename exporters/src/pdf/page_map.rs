//! A small picture of a face: where the templates lie on it, and for a handed pair which of the two it is.

use jigless_model::geom::{Bounds, Path, Point, Vertex, circle, rectangle};
use jigless_model::side::Face;
use jigless_model::view::FaceView;

use crate::drawing::caption::Hand;
use crate::drawing::label::{LabelRequest, LabelTarget};
use crate::drawing::label_layout::LabelLayout;
use crate::drawing::text::{Block, LABEL};
use crate::drawing::{Anchor, Dash, Ink, Item, Pen, Role, TextLine, Weight};

/// Dots for holes are left out where there are more than this: they would be a grey smear.
const MOST_DOTS: usize = 80;
/// Radius of a dot, in millimetres.
const DOT: f64 = 0.35;
/// Room for the arrow that points to the top, in millimetres.
const ARROW: f64 = 5.0;
/// Between the two of a pair, in millimetres.
const BETWEEN: f64 = 1.5;

/// A template on the map.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct MapCell {
    /// What of the face it is for, in view coordinates.
    pub(super) shows: Bounds,
    /// Its name.
    pub(super) name: String,
    /// Whether it is on this sheet.
    pub(super) here: bool,
}

/// The picture of a face inside a box, with some templates and the centres of holes. Templates of this sheet are filled;
/// names are written where they fit.
pub(super) fn draw(
    inside: Bounds,
    view: &FaceView,
    hand: Option<Hand>,
    cells: &[MapCell],
    holes: &[Point],
) -> Vec<Item> {
    let part = Bounds::of_size(view.width, view.height);
    let extent = cells
        .iter()
        .map(|cell| cell.shows)
        .fold(part, Bounds::union);
    let mut room = inside;
    room.max.x -= ARROW;
    let mut items = arrow(Bounds::new(
        Point::new(room.max.x, inside.min.y),
        inside.max,
    ));
    // Seen from behind, the two of a pair stand the other way about.
    let beside = hand.map(|hand| hand.stands_right ^ (view.face == Face::Back));
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
        items.extend(contours(view, &frame, pen));
    }
    let frame = MapTransform::new(room, extent, false);
    for cell in cells.iter().filter(|cell| cell.here) {
        let filled = rectangle(frame.shrink(cell.shows));
        items.push(Item::fill(Role::Frame, filled, Ink(190, 190, 190)));
    }
    items.extend(contours(view, &frame, Pen::new(0.3, Ink::BLACK)));
    for cell in cells {
        let pen = Pen::new(0.1, Ink::BLACK);
        items.push(Item::stroke(
            Role::Frame,
            rectangle(frame.shrink(cell.shows)),
            pen,
        ));
    }
    let mut layout = LabelLayout::new(inside, &items);
    for cell in cells {
        let shown = frame.shrink(cell.shows);
        let size = (shown.height() * 0.5).clamp(2.47, 4.5);
        let name = |size: f64| Block {
            size,
            weight: if cell.here {
                Weight::Bold
            } else {
                Weight::Regular
            },
            ..Block::label([cell.name.as_str()])
        };
        let target = LabelTarget::Box(shown);
        let request = LabelRequest::new(Role::Frame, target, vec![name(size), name(2.47)]);
        items.extend(layout.place(&request).into_iter().flatten());
    }
    if holes.len() <= MOST_DOTS {
        let dots = holes.iter().map(|hole| circle(frame.place(*hole), DOT));
        items.extend(dots.map(|dot| Item::fill(Role::Frame, dot, Ink::BLACK)));
    }
    items
}

/// A sketch of a face inside a box, with dots where something is.
pub(super) fn sketch(inside: Bounds, view: &FaceView, places: &[Point]) -> Vec<Item> {
    let part = Bounds::of_size(view.width, view.height);
    let frame = MapTransform::new(inside.grown(-0.8), part, false);
    let mut items = contours(view, &frame, Pen::new(0.2, Ink::BLACK));
    let dots = places.iter().map(|at| circle(frame.place(*at), 0.6));
    items.extend(dots.map(|dot| Item::fill(Role::Frame, dot, Ink::BLACK)));
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

fn contours(view: &FaceView, frame: &MapTransform, pen: Pen) -> Vec<Item> {
    let cuts = view.contours.iter();
    cuts.map(|cut| Item::stroke(Role::Frame, frame.path(&cut.path), pen))
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
    let words = TextLine::new(middle + Point::new(0.0, 4.2), 0.78 * LABEL, "top");
    vec![
        Item::line(Role::Frame, low, high, pen),
        Item::stroke(Role::Frame, Path::of_points(head, false), pen),
        Item::text(Role::Frame, words.anchored(Anchor::Middle)),
    ]
}
