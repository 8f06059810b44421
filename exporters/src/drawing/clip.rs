//! Cutting a drawing down to one page.
//!
//! The cut is made in the geometry and not left to the reader of the file: what is not on a page is not in it either,
//! and a straight line or arc stays one.

use std::f64::consts::TAU;

use jigless_model::geom::{Arc, Bounds, LENGTH_TOLERANCE, Path, Point, Segment, Vertex};

use super::item::{Item, ItemShape};

/// Straight pieces stay this close to an ellipse that is cut through, in millimetres.
const ELLIPSE_ERROR: f64 = 0.005;
/// Straight pieces stay this close to the border of a filled area that is cut through, in millimetres.
const FILL_ERROR: f64 = 0.02;

/// The parts of an item inside a window, moved by a vector. Words are kept only as a whole.
pub(crate) fn clip(item: &Item, window: Bounds, by: Point) -> Vec<Item> {
    let Some(bounds) = geometry_bounds(&item.shape) else {
        return Vec::new();
    };
    if window.contains_box(bounds, LENGTH_TOLERANCE) {
        return vec![item.moved(by)];
    }
    if bounds.intersection(window).is_none() {
        return Vec::new();
    }
    let shapes: Vec<ItemShape> = match &item.shape {
        ItemShape::Stroke(path, pen) => clip_path(path, window)
            .into_iter()
            .map(|path| ItemShape::Stroke(path, *pen))
            .collect(),
        ItemShape::Fill(path, ink) => clip_fill(path, window)
            .into_iter()
            .map(|path| ItemShape::Fill(path, *ink))
            .collect(),
        ItemShape::Ellipse(ellipse, pen) => {
            // Chord error of a circle of the long radius is the worst of the ellipse's.
            let step = 2.0
                * (1.0 - ELLIPSE_ERROR / ellipse.half_length.max(0.01))
                    .max(0.0)
                    .acos();
            let pieces = (TAU / step.max(0.01)).ceil().max(8.0) as usize;
            let points = (0..pieces).map(|i| ellipse.point_at(TAU * i as f64 / pieces as f64));
            clip_path(&Path::of_points(points, true), window)
                .into_iter()
                .map(|path| ItemShape::Stroke(path, *pen))
                .collect()
        }
        ItemShape::Text(_) => Vec::new(),
    };
    let role = item.role;
    shapes
        .into_iter()
        .map(|shape| Item { role, shape }.moved(by))
        .collect()
}

/// Whether any of an item lies inside a window.
pub(crate) fn reaches(item: &Item, window: Bounds) -> bool {
    !clip(item, window, Point::default()).is_empty()
}

/// The box around the middle lines of an item: whether a pen's half width reaches out of a window does not matter.
fn geometry_bounds(shape: &ItemShape) -> Option<Bounds> {
    match shape {
        ItemShape::Stroke(path, _) | ItemShape::Fill(path, _) => path.bounds(),
        ItemShape::Ellipse(ellipse, _) => Some(ellipse.bounds()),
        ItemShape::Text(text) => Some(text.bounds()),
    }
}

/// The runs of a path inside a window, in order.
fn clip_path(path: &Path, window: Bounds) -> Vec<Path> {
    let mut runs: Vec<Path> = Vec::new();
    for segment in path.segments() {
        for (from, to, bulge) in pieces(&segment, window) {
            let start = Vertex { point: from, bulge };
            let end = Vertex {
                point: to,
                bulge: 0.0,
            };
            match runs.last_mut().map(|run| &mut run.vertices) {
                Some(vertices)
                    if vertices
                        .last()
                        .is_some_and(|last| last.point.distance(from) < LENGTH_TOLERANCE) =>
                {
                    vertices.pop();
                    vertices.extend([start, end]);
                }
                _ => runs.push(Path {
                    vertices: vec![start, end],
                    closed: false,
                }),
            }
        }
    }
    // A closed path that starts inside comes in two runs that belong together.
    if runs.len() > 1 && path.closed {
        let meets = |runs: &[Path]| {
            let last = runs[runs.len() - 1].vertices.last().map(|v| v.point);
            let first = runs[0].vertices.first().map(|v| v.point);
            matches!((last, first), (Some(a), Some(b)) if a.distance(b) < LENGTH_TOLERANCE)
        };
        if meets(&runs)
            && let Some(mut last) = runs.pop()
        {
            last.vertices.pop();
            last.vertices.append(&mut runs[0].vertices);
            runs[0] = last;
        }
    }
    runs
}

/// The pieces of a segment inside a window: ends and bulge.
fn pieces(segment: &Segment, window: Bounds) -> Vec<(Point, Point, f64)> {
    match segment {
        Segment::Line(from, to) => clip_line(*from, *to, window)
            .map(|(a, b)| (from.toward(*to, a), from.toward(*to, b), 0.0))
            .into_iter()
            .collect(),
        Segment::Arc(arc) => clip_arc(arc, window)
            .into_iter()
            .map(|(a, b)| {
                let bulge = Arc::bulge_of_sweep(arc.sweep() * (b - a));
                (arc.point_at(a), arc.point_at(b), bulge)
            })
            .collect(),
    }
}

/// The shares of a line between which it runs inside a window (Liang and Barsky).
fn clip_line(from: Point, to: Point, window: Bounds) -> Option<(f64, f64)> {
    let along = to - from;
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (direction, room) in [
        (-along.x, from.x - window.min.x),
        (along.x, window.max.x - from.x),
        (-along.y, from.y - window.min.y),
        (along.y, window.max.y - from.y),
    ] {
        if direction == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if direction < 0.0 {
            enter = enter.max(room / direction);
        } else {
            leave = leave.min(room / direction);
        }
    }
    (leave - enter > 1e-12).then_some((enter, leave))
}

/// The shares of an arc between which it runs inside a window.
fn clip_arc(arc: &Arc, window: Bounds) -> Vec<(f64, f64)> {
    let (centre, radius, sweep, start) =
        (arc.centre(), arc.radius(), arc.sweep(), arc.start_angle());
    let mut cuts = vec![0.0, 1.0];
    let mut cut_at = |angle: f64| {
        // The share of the sweep at which the arc passes this direction.
        let turned = (angle - start) * sweep.signum();
        let share = turned.rem_euclid(TAU) / sweep.abs();
        if share < 1.0 {
            cuts.push(share);
        }
    };
    for x in [window.min.x, window.max.x] {
        let cosine = (x - centre.x) / radius;
        if cosine.abs() <= 1.0 {
            cut_at(cosine.acos());
            cut_at(-cosine.acos());
        }
    }
    for y in [window.min.y, window.max.y] {
        let sine = (y - centre.y) / radius;
        if sine.abs() <= 1.0 {
            cut_at(sine.asin());
            cut_at(std::f64::consts::PI - sine.asin());
        }
    }
    cuts.sort_by(f64::total_cmp);
    let mut kept: Vec<(f64, f64)> = Vec::new();
    for pair in cuts.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let middle = arc.point_at(f64::midpoint(a, b));
        if b - a < 1e-12 || !window.contains(middle, 0.0) {
            continue;
        }
        match kept.last_mut() {
            Some(last) if (last.1 - a).abs() < 1e-12 => last.1 = b,
            _ => kept.push((a, b)),
        }
    }
    kept
}

/// A filled area inside a window (Sutherland and Hodgman). Where the window takes an area apart, the pieces stay joined
/// by seams of no width along its border, which show no ink.
fn clip_fill(path: &Path, window: Bounds) -> Option<Path> {
    let mut points = path.flattened(FILL_ERROR);
    // Each side as a direction to the inside and the distance of the side along it.
    for (inward, at) in [
        (Point::new(1.0, 0.0), window.min.x),
        (Point::new(-1.0, 0.0), -window.max.x),
        (Point::new(0.0, 1.0), window.min.y),
        (Point::new(0.0, -1.0), -window.max.y),
    ] {
        let inside = |p: Point| p.dot(inward) - at;
        let mut kept = Vec::with_capacity(points.len() + 4);
        for (index, &to) in points.iter().enumerate() {
            let from = points[(index + points.len() - 1) % points.len()];
            let (a, b) = (inside(from), inside(to));
            if (a < 0.0) != (b < 0.0) {
                kept.push(from.toward(to, a / (a - b)));
            }
            if b >= 0.0 {
                kept.push(to);
            }
        }
        points = kept;
    }
    let clipped = Path::of_points(points, true);
    (clipped.area().abs() > 1e-6).then_some(clipped)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Ellipse, Ink, Pen, Role};
    use jigless_model::geom::{circle, rectangle};
    use std::f64::consts::PI;

    fn length_inside(path: &Path, window: Bounds) -> f64 {
        clip_path(path, window).iter().map(Path::length).sum()
    }

    #[test]
    fn a_circle_cut_in_half_keeps_half_its_length_as_one_arc_run() {
        let path = circle(Point::new(0.0, 0.0), 10.0);
        for window in [
            Bounds::new(Point::new(0.0, -50.0), Point::new(50.0, 50.0)),
            Bounds::new(Point::new(-50.0, -50.0), Point::new(0.0, 50.0)),
            Bounds::new(Point::new(-50.0, 0.0), Point::new(50.0, 50.0)),
        ] {
            let runs = clip_path(&path, window);
            assert_eq!(runs.len(), 1, "{window:?}");
            assert!((runs[0].length() - 10.0 * PI).abs() < 1e-9);
            assert!(
                runs[0]
                    .vertices
                    .iter()
                    .rev()
                    .skip(1)
                    .all(|v| v.bulge != 0.0)
            );
        }
    }

    /// Neighbouring windows share nothing and lose nothing.
    #[test]
    fn windows_side_by_side_hold_all_of_a_path() {
        let outline = rectangle(Bounds::of_size(400.0, 300.0));
        let hole = circle(Point::new(151.0, 99.0), 17.5);
        for path in [outline, hole] {
            let mut total = 0.0;
            for (x0, x1) in [(-5.0, 150.0), (150.0, 290.0), (290.0, 405.0)] {
                for (y0, y1) in [(-5.0, 100.0), (100.0, 305.0)] {
                    total +=
                        length_inside(&path, Bounds::new(Point::new(x0, y0), Point::new(x1, y1)));
                }
            }
            assert!((total - path.length()).abs() < 1e-6, "{total}");
        }
    }

    #[test]
    fn a_fill_keeps_its_area() {
        let path = circle(Point::new(0.0, 0.0), 10.0);
        let half = clip_fill(
            &path,
            Bounds::new(Point::new(0.0, -50.0), Point::new(50.0, 50.0)),
        );
        let area = half.unwrap().area();
        assert!((area - 50.0 * PI).abs() < 0.5, "{area}");
        let window = Bounds::new(Point::new(20.0, 20.0), Point::new(50.0, 50.0));
        let item = Item::fill(Role::Area, path, Ink::GREY);
        assert!(clip(&item, window, Point::default()).is_empty());
    }

    #[test]
    fn a_cut_ellipse_stays_on_its_curve() {
        let ellipse = Ellipse {
            centre: Point::new(0.0, 0.0),
            half_length: 18.4,
            half_width: 4.75,
            angle: 0.0,
        };
        let item = Item {
            role: Role::HandWork,
            shape: ItemShape::Ellipse(ellipse, Pen::THIN),
        };
        let cut = clip(
            &item,
            Bounds::new(Point::new(0.0, -50.0), Point::new(50.0, 50.0)),
            Point::default(),
        );
        let ItemShape::Stroke(path, _) = &cut[0].shape else {
            panic!("{cut:?}");
        };
        for vertex in &path.vertices {
            let p = vertex.point;
            let on = (p.x / 18.4).powi(2) + (p.y / 4.75).powi(2);
            assert!((on - 1.0).abs() < 0.01, "{p:?}");
        }
    }
}
