//! Where a laser's beam begins: beside the line in the waste, so that the burn of its start marks no part.

use jigless_model::geom::{Bounds, Path, Point, Segment, Vertex, circle};

use super::drawing::{LayerDrawing, LayerItem, LayerShape};
use super::layers::Layer;
use super::way_in;

/// How far the way in keeps from every other line, in millimetres. Common practice, no source.
const CLEAR: f64 = 0.3;

/// Gives every outline and opening a way in of a length, and says how many have none for want of room. The line is no
/// longer one closed curve then: it ends where the way in meets it.
pub(super) fn lead_in(drawing: &mut LayerDrawing, length: f64) -> usize {
    let cuts: Vec<(Path, Bounds)> = drawing.items.iter().filter_map(cut).collect();
    let mut without = 0;
    for item in &mut drawing.items {
        let Some((path, _)) = cut(item) else {
            continue;
        };
        let inside = item.layer == Layer::CutInside;
        let start = starts(&path, inside).into_iter().find_map(|start| {
            let from = start.at + start.into_waste * length;
            is_clear(&path, inside, (start.at, from), &cuts).then_some((start, from))
        });
        match start {
            Some((start, from)) => item.shape = LayerShape::Path(way_in::with(&start.path, from)),
            None => without += 1,
        }
    }
    without
}

/// A closed cut as a path, with its box.
fn cut(item: &LayerItem) -> Option<(Path, Bounds)> {
    if !matches!(item.layer, Layer::CutInside | Layer::CutOutside) {
        return None;
    }
    let path = match &item.shape {
        LayerShape::Circle { centre, radius } => circle(*centre, *radius),
        LayerShape::Path(path) if path.closed => path.clone(),
        LayerShape::Path(_) | LayerShape::Text(_) => return None,
    };
    let bounds = path.bounds()?;
    Some((path, bounds))
}

/// A place on a line where a cut may begin.
struct Start {
    at: Point,
    /// Square to the line into the waste, of length 1.
    into_waste: Point,
    /// The line from there on.
    path: Path,
}

/// The middles of the straight sides, the longest first; without one, the first corner of an arc.
fn starts(path: &Path, inside: bool) -> Vec<Start> {
    let path = path.normalised(!inside);
    let mut sides: Vec<(usize, Segment)> = path.segments().enumerate().collect();
    sides.sort_by(|a, b| b.1.length().total_cmp(&a.1.length()).then(a.0.cmp(&b.0)));
    let straight = sides.iter().filter_map(|(index, side)| match side {
        Segment::Line(from, to) => Some(from_middle(&path, *index, (*from, *to))),
        Segment::Arc(_) => None,
    });
    let mut starts: Vec<Start> = straight.collect();
    if starts.is_empty()
        && let Some((index, Segment::Arc(arc))) = sides.first()
    {
        let mut vertices = path.vertices.clone();
        vertices.rotate_left(*index);
        // The radius is square to the arc; a counter-clockwise arc has its centre on the left.
        let outward = (arc.from - arc.centre()).unit();
        starts.push(Start {
            at: arc.from,
            into_waste: if arc.bulge > 0.0 { outward } else { -outward },
            path: Path {
                vertices,
                closed: true,
            },
        });
    }
    starts
}

/// A start in the middle of a side. The part is on the left of the path, whether it is an outline or an opening.
fn from_middle(path: &Path, index: usize, (from, to): (Point, Point)) -> Start {
    let at = from.toward(to, 0.5);
    let count = path.vertices.len();
    let mut vertices = vec![Vertex {
        point: at,
        bulge: 0.0,
    }];
    vertices.extend((1..=count).map(|step| path.vertices[(index + step) % count]));
    Start {
        at,
        into_waste: -(to - from).unit().left(),
        path: Path {
            vertices,
            closed: true,
        },
    }
}

/// Whether a way in lies in the waste of its own line and off all others.
fn is_clear(own: &Path, inside: bool, (at, from): (Point, Point), cuts: &[(Path, Bounds)]) -> bool {
    let length = at.distance(from);
    let in_waste = own.contains(from) == inside && own.distance_to(from) > 0.99 * length;
    let way = Bounds::around(from, length + CLEAR);
    in_waste
        && cuts
            .iter()
            .filter(|(path, bounds)| bounds.overlaps(way, 0.0) && path != own)
            .all(|(path, _)| {
                let steps = (length / CLEAR).ceil().max(1.0) as usize;
                (0..=steps).all(|step| {
                    let point = at.toward(from, step as f64 / steps as f64);
                    path.distance_to(point) >= CLEAR
                })
            })
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{rectangle, rounded_rectangle};

    fn led_of(drawing: &LayerDrawing, number: usize) -> &Path {
        match &drawing.items[number].shape {
            LayerShape::Path(path) => path,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn the_beam_begins_in_the_waste() {
        let mut drawing = LayerDrawing::default();
        let outline = rounded_rectangle(Bounds::of_size(60.0, 40.0), 5.0);
        let opening = rectangle(Bounds::new(Point::new(10.0, 10.0), Point::new(30.0, 20.0)));
        drawing.path(Layer::CutOutside, &outline);
        drawing.path(Layer::CutInside, &opening.reversed());
        drawing.circle(Layer::CutInside, Point::new(45.0, 20.0), 8.0);
        let length = [
            outline.length(),
            opening.length(),
            std::f64::consts::TAU * 4.0,
        ];
        let before = drawing.items.clone();
        let without = lead_in(&mut drawing, 2.0);
        assert_eq!(without, 0, "{before:?}\n{:?}", drawing.items);
        for (number, length) in length.into_iter().enumerate() {
            let path = led_of(&drawing, number);
            let first = path.vertices[0].point;
            let (second, last) = (
                path.vertices[1].point,
                path.vertices.last().expect("an end").point,
            );
            assert!((first.distance(second) - 2.0).abs() < 1e-9);
            assert!(second.distance(last) < 1e-9, "the cut ends where it began");
            assert!((path.length() - length - 2.0).abs() < 1e-9, "{number}");
            assert_eq!(outline.contains(first), number > 0);
        }
        assert!(opening.contains(led_of(&drawing, 1).vertices[0].point));
        let hole = led_of(&drawing, 2).vertices[0].point;
        assert!((hole.distance(Point::new(45.0, 20.0)) - 2.0).abs() < 1e-9);
    }

    #[test]
    fn without_room_the_line_begins_on_itself() {
        let mut drawing = LayerDrawing::default();
        drawing.circle(Layer::CutInside, Point::new(5.0, 5.0), 3.0);
        assert_eq!(
            lead_in(&mut drawing, 2.0),
            1,
            "it would come out on the other side"
        );
        assert!(matches!(drawing.items[0].shape, LayerShape::Circle { .. }));
        let mut drawing = LayerDrawing::default();
        for left in [0.0, 21.0] {
            let corner = Point::new(left, 0.0);
            let bounds = Bounds::new(corner, corner + Point::new(20.0, 300.0));
            drawing.path(Layer::CutOutside, &rectangle(bounds));
        }
        assert_eq!(lead_in(&mut drawing, 2.0), 0);
        for number in 0..2 {
            let first = led_of(&drawing, number).vertices[0].point;
            assert!(
                !(19.0..22.0).contains(&first.x),
                "into the neighbour: {first:?}"
            );
        }
    }
}
