//! Tabs: short gaps in an outline that hold a small part in its sheet until it is broken out.

use jigless_model::diag::Finding;
use jigless_model::geom::{Bounds, Path, Point, Segment, Vertex};
use jigless_model::plan::Part;
use jigless_model::units::Unit;

use super::drawing::{LayerDrawing, LayerShape};
use super::layers::Layer;
use crate::codes;

/// How many tabs a part gets.
const COUNT: usize = 2;

/// Leaves every outline that is smaller than a cell of the bed standing on tabs. `gap` is the gap in the line: the width
/// of the tab and what the cut takes of it. Gives how many outlines there are.
pub(super) fn leave(drawing: &mut LayerDrawing, cell: f64, gap: f64) -> usize {
    let mut count = 0;
    let mut items = Vec::with_capacity(drawing.items.len());
    for item in drawing.items.drain(..) {
        let pieces = match &item.shape {
            LayerShape::Path(path) if item.layer == Layer::CutOutside && is_small(path, cell) => {
                tabbed(path, gap)
            }
            _ => None,
        };
        let Some(pieces) = pieces else {
            items.push(item);
            continue;
        };
        count += 1;
        items.extend(pieces.into_iter().map(|piece| super::drawing::LayerItem {
            layer: Layer::CutOpen,
            shape: LayerShape::Path(piece),
            openings: 0,
        }));
    }
    drawing.items = items;
    count
}

/// Whether a piece could fall through an opening of the bed.
pub(super) fn is_small(path: &Path, cell: f64) -> bool {
    path.bounds()
        .is_some_and(|b| b.width().min(b.height()) < cell)
}

/// The middles of the gaps in an outline, and the directions of the sides that they are in; none where no side is long
/// enough.
pub(super) fn places(path: &Path, gap: f64) -> Vec<(Point, Point)> {
    let segments: Vec<Segment> = path.segments().collect();
    let place = |index: usize| {
        let (a, b) = (segments[index].from(), segments[index].to());
        (a.toward(b, 0.5), (b - a).unit())
    };
    sides(path, gap).into_iter().map(place).collect()
}

/// Says that no side of a part has room for a tab.
pub(super) fn refused(part: &Part, gap: f64, unit: Unit) -> Finding {
    let message = format!(
        "part `{}`: no straight side has room for a tab, which with the cut takes {}",
        part.id,
        unit.show(gap)
    );
    Finding::error(codes::TAB_DOES_NOT_FIT, part.span, message)
        .fix("give a narrower tab, or set `tab: 0` and hold the part in another way")
}

/// The two longest sides, by their numbers in order. Only straight sides that lie on the box around it count: nothing is
/// joined to those of a notch's walls. None where there is no side long enough.
fn sides(path: &Path, gap: f64) -> Vec<usize> {
    let Some(bounds) = path.bounds() else {
        return Vec::new();
    };
    let mut sides: Vec<(usize, f64)> = path
        .segments()
        .enumerate()
        .filter_map(|(index, segment)| match segment {
            Segment::Line(a, b) if on_box(a, b, bounds) => Some((index, a.distance(b))),
            _ => None,
        })
        .filter(|(_, length)| *length > 3.0 * gap)
        .collect();
    sides.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    sides.truncate(COUNT);
    let mut gaps: Vec<usize> = sides.into_iter().map(|(index, _)| index).collect();
    gaps.sort_unstable();
    gaps
}

/// The outline in pieces between the gaps.
fn tabbed(path: &Path, gap: f64) -> Option<Vec<Path>> {
    let segments: Vec<Segment> = path.segments().collect();
    let gaps = sides(path, gap);
    if gaps.is_empty() {
        return None;
    }
    let ends = |index: usize| {
        let (a, b) = (segments[index].from(), segments[index].to());
        let middle = a.toward(b, 0.5);
        let half = (b - a).unit() * (gap / 2.0);
        (middle - half, middle + half)
    };
    let count = path.vertices.len();
    let pieces = gaps.iter().enumerate().map(|(nth, &from)| {
        let to = gaps[(nth + 1) % gaps.len()];
        let steps = match (to + count - from) % count {
            0 => count,
            steps => steps,
        };
        let start = Vertex {
            point: ends(from).1,
            bulge: 0.0,
        };
        let between = (1..=steps).map(|step| path.vertices[(from + step) % count]);
        let end = Vertex {
            point: ends(to).0,
            bulge: 0.0,
        };
        Path {
            vertices: std::iter::once(start).chain(between).chain([end]).collect(),
            closed: false,
        }
    });
    Some(pieces.collect())
}

fn on_box(a: Point, b: Point, bounds: Bounds) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let both = |of: fn(Point) -> f64, at: f64| near(of(a), at) && near(of(b), at);
    both(|p| p.x, bounds.min.x)
        || both(|p| p.x, bounds.max.x)
        || both(|p| p.y, bounds.min.y)
        || both(|p| p.y, bounds.max.y)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::rounded_rectangle;

    #[test]
    fn two_gaps_of_the_width_of_a_tab() {
        let path = rounded_rectangle(Bounds::of_size(20.0, 8.0), 2.0);
        let mut drawing = LayerDrawing::default();
        drawing.path(Layer::CutOutside, &path);
        assert_eq!(leave(&mut drawing, 10.0, 0.5), 1);
        let pieces: Vec<&Path> = drawing
            .items
            .iter()
            .filter_map(|item| match &item.shape {
                LayerShape::Path(path) if item.layer == Layer::CutOpen => Some(path),
                _ => None,
            })
            .collect();
        assert_eq!(pieces.len(), 2);
        let left: f64 = pieces.iter().map(|piece| piece.length()).sum();
        assert!((path.length() - left - 1.0).abs() < 1e-9);
        assert!(pieces.iter().all(|piece| !piece.closed));
    }

    #[test]
    fn large_parts_stay_closed() {
        let mut drawing = LayerDrawing::default();
        drawing.path(
            Layer::CutOutside,
            &rounded_rectangle(Bounds::of_size(20.0, 18.0), 2.0),
        );
        assert_eq!(leave(&mut drawing, 10.0, 0.5), 0);
        assert_eq!(drawing.items[0].layer, Layer::CutOutside);
    }
}
