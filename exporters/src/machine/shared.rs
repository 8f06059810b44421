//! Edges that neighbours on a sheet have in common are cut once.

use jigless_model::geom::{Path, Point, Segment, Vertex};

use super::drawing::{LayerDrawing, LayerShape};
use super::layers::Layer;

/// Lines closer than this, in millimetres, are one line.
const NEAR: f64 = 1e-4;

/// Takes from every outline what an earlier one cuts already. What is left of it is no longer closed. Gives the length
/// that is cut once instead of twice, in millimetres.
pub(super) fn cut_once(drawing: &mut LayerDrawing) -> f64 {
    let mut cut: Vec<(Point, Point)> = Vec::new();
    let mut saved = 0.0;
    let mut items = Vec::with_capacity(drawing.items.len());
    for item in drawing.items.drain(..) {
        let path = match &item.shape {
            LayerShape::Path(path) if item.layer == Layer::CutOutside && path.closed => path,
            _ => {
                items.push(item);
                continue;
            }
        };
        let pieces = rest(path, &cut);
        cut.extend(path.segments().filter_map(|segment| match segment {
            Segment::Line(a, b) => Some((a, b)),
            Segment::Arc(_) => None,
        }));
        match pieces {
            None => items.push(item),
            Some(pieces) => {
                saved += path.length() - pieces.iter().map(Path::length).sum::<f64>();
                items.extend(pieces.into_iter().map(|piece| super::drawing::LayerItem {
                    layer: Layer::CutOpen,
                    shape: LayerShape::Path(piece),
                    openings: 0,
                }));
            }
        }
    }
    drawing.items = items;
    saved
}

/// What of a closed path lies on none of some lines; `None` where all of it does not.
fn rest(path: &Path, cut: &[(Point, Point)]) -> Option<Vec<Path>> {
    let mut pieces: Vec<Path> = Vec::new();
    let mut whole = true;
    // Whether the last piece ends where the next segment begins.
    let mut goes_on = false;
    for segment in path.segments() {
        let (from, to) = (segment.from(), segment.to());
        let shares = match segment {
            Segment::Arc(_) => Vec::new(),
            Segment::Line(a, b) => covered(a, b, cut),
        };
        whole &= shares.is_empty();
        let mut at = 0.0;
        for (start, end) in shares.into_iter().chain([(1.0, 1.0)]) {
            if start - at > NEAR / from.distance(to).max(NEAR) {
                let bulge = match segment {
                    Segment::Arc(arc) => arc.bulge,
                    Segment::Line(..) => 0.0,
                };
                let (a, b) = (from.toward(to, at), from.toward(to, start));
                push(&mut pieces, goes_on && at == 0.0, a, b, bulge);
                goes_on = start >= 1.0;
            } else if start < 1.0 || at < 1.0 {
                goes_on = false;
            }
            at = end;
        }
    }
    if whole {
        return None;
    }
    // The path may begin in the middle of a piece.
    if let [first, .., last] = pieces.as_mut_slice()
        && last.vertices.last().map(|v| v.point) == first.vertices.first().map(|v| v.point)
    {
        last.vertices.pop();
        last.vertices.append(&mut first.vertices);
        pieces.swap_remove(0);
    }
    Some(pieces)
}

fn push(pieces: &mut Vec<Path>, goes_on: bool, a: Point, b: Point, bulge: f64) {
    let end = Vertex {
        point: b,
        bulge: 0.0,
    };
    match pieces.last_mut() {
        Some(piece) if goes_on => {
            if let Some(last) = piece.vertices.last_mut() {
                last.bulge = bulge;
            }
            piece.vertices.push(end);
        }
        _ => pieces.push(Path {
            vertices: vec![Vertex { point: a, bulge }, end],
            closed: false,
        }),
    }
}

/// The shares of a line, from 0 to 1 and in order, that lie on others.
fn covered(a: Point, b: Point, cut: &[(Point, Point)]) -> Vec<(f64, f64)> {
    let along = b - a;
    let length = along.length();
    let unit = along.unit();
    let mut shares: Vec<(f64, f64)> = cut
        .iter()
        .filter(|(c, d)| [c, d].iter().all(|p| unit.cross(**p - a).abs() < NEAR))
        .map(|(c, d)| (unit.dot(*c - a) / length, unit.dot(*d - a) / length))
        .map(|(c, d)| (c.min(d).max(0.0), c.max(d).min(1.0)))
        .filter(|(from, to)| (to - from) * length > NEAR)
        .collect();
    shares.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut joined: Vec<(f64, f64)> = Vec::new();
    for (from, to) in shares {
        match joined.last_mut() {
            Some((_, end)) if from <= *end + NEAR / length => *end = end.max(to),
            _ => joined.push((from, to)),
        }
    }
    joined
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{Bounds, rectangle};

    fn boxed(x: f64, y: f64, w: f64, h: f64) -> Path {
        rectangle(Bounds::new(Point::new(x, y), Point::new(x + w, y + h)))
    }

    fn paths(drawing: &LayerDrawing) -> Vec<&Path> {
        let path =
            |item: &'_ super::super::drawing::LayerItem| matches!(item.shape, LayerShape::Path(_));
        assert!(drawing.items.iter().all(path));
        drawing
            .items
            .iter()
            .filter_map(|item| match &item.shape {
                LayerShape::Path(path) => Some(path),
                _ => None,
            })
            .collect()
    }

    #[test]
    fn two_squares_share_a_side() {
        let mut drawing = LayerDrawing::default();
        drawing.path(Layer::CutOutside, &boxed(0.0, 0.0, 10.0, 10.0));
        drawing.path(Layer::CutOutside, &boxed(10.0, 0.0, 10.0, 10.0));
        assert!((cut_once(&mut drawing) - 10.0).abs() < 1e-9);
        let paths = paths(&drawing);
        assert_eq!(paths.len(), 2);
        assert!(paths[0].closed && !paths[1].closed);
        assert_eq!(paths[1].vertices.len(), 4);
    }

    #[test]
    fn a_short_neighbour_leaves_the_rest_of_a_side() {
        let mut drawing = LayerDrawing::default();
        drawing.path(Layer::CutOutside, &boxed(0.0, 3.0, 10.0, 4.0));
        drawing.path(Layer::CutOutside, &boxed(10.0, 0.0, 10.0, 10.0));
        assert!((cut_once(&mut drawing) - 4.0).abs() < 1e-9);
        let left: f64 = paths(&drawing).iter().map(|path| path.length()).sum();
        assert!((left - (28.0 + 40.0 - 4.0)).abs() < 1e-9);
    }

    #[test]
    fn strangers_stay_closed() {
        let mut drawing = LayerDrawing::default();
        drawing.path(Layer::CutOutside, &boxed(0.0, 0.0, 10.0, 10.0));
        drawing.path(Layer::CutOutside, &boxed(10.1, 0.0, 10.0, 10.0));
        assert!(cut_once(&mut drawing).abs() < 1e-12);
        assert!(paths(&drawing).iter().all(|path| path.closed));
    }
}
