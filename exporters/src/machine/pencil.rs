//! Pencil lines drawn once: the outlines of two parts that meet share a line, and a laser would burn it twice.

use jigless_model::geom::{LENGTH_TOLERANCE, Path, Point, Segment};

use super::drawing::{LayerDrawing, LayerShape};
use super::layers::Layer;

/// What of a line is not drawn yet: the line itself where nothing of it is, else its pieces.
pub(super) fn not_yet_drawn(line: &Path, drawing: &LayerDrawing) -> Vec<Path> {
    let drawn: Vec<(Point, Point)> = drawing
        .items
        .iter()
        .filter(|item| item.layer == Layer::Mark)
        .filter_map(|item| match &item.shape {
            LayerShape::Path(path) => Some(path.segments().filter_map(|s| straight(&s))),
            LayerShape::Circle { .. } | LayerShape::Text(_) => None,
        })
        .flatten()
        .collect();
    let mut met = false;
    let mut pieces = Vec::new();
    for segment in line.segments() {
        let Some((from, to)) = straight(&segment) else {
            // Arcs are left whole: outlines of parts that meet share straight lines.
            return vec![line.clone()];
        };
        let free = free_of(from, to, &drawn);
        met |= free.len() != 1 || (free[0].1 - free[0].0) < from.distance(to) - LENGTH_TOLERANCE;
        let along = (to - from).unit();
        pieces.extend(
            free.into_iter()
                .map(|(start, end)| Path::line(from + along * start, from + along * end)),
        );
    }
    if met { pieces } else { vec![line.clone()] }
}

fn straight(segment: &Segment) -> Option<(Point, Point)> {
    match segment {
        Segment::Line(from, to) => Some((*from, *to)),
        Segment::Arc(_) => None,
    }
}

/// The stretches of a line that lie on none of the others, as distances from its first end in millimetres.
fn free_of(from: Point, to: Point, others: &[(Point, Point)]) -> Vec<(f64, f64)> {
    const NEAR: f64 = 1e-4;
    let along = (to - from).unit();
    let mut free: Vec<(f64, f64)> = vec![(0.0, from.distance(to))];
    for (a, b) in others {
        let off = |point: Point| along.cross(point - from).abs();
        if off(*a) > NEAR || off(*b) > NEAR {
            continue;
        }
        let (a, b) = (along.dot(*a - from), along.dot(*b - from));
        let (low, high) = (a.min(b), a.max(b));
        free = free
            .into_iter()
            .flat_map(|(start, end)| [(start, end.min(low)), (start.max(high), end)])
            .filter(|(start, end)| end - start > 0.05)
            .collect();
    }
    free
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{Bounds, rectangle};

    #[test]
    fn neighbours_share_a_line() {
        let mut drawing = LayerDrawing::default();
        let lower = rectangle(Bounds::of_size(100.0, 20.0));
        assert_eq!(not_yet_drawn(&lower, &drawing), vec![lower.clone()]);
        drawing.path(Layer::Mark, &lower);
        let upper = rectangle(Bounds::new(Point::new(40.0, 20.0), Point::new(160.0, 60.0)));
        let pieces = not_yet_drawn(&upper, &drawing);
        let length: f64 = pieces.iter().map(Path::length).sum();
        // 2 x (120 + 40), less the 60 that both have.
        assert!((length - 260.0).abs() < 1e-9, "{pieces:?}");
    }
}
