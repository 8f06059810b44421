//! Whether the work can be done to the wood.

pub(super) mod contour_crosses_itself;
pub(super) mod corner_too_tight;
pub(super) mod countersink_too_deep;
pub(super) mod edge_hole_meets_work;
pub(super) mod edge_work_off_edge;
pub(super) mod groove_too_deep;
pub(super) mod hole_breaks_edge;
pub(super) mod hole_near_edge;
pub(super) mod hole_outside_part;
pub(super) mod holes_run_together;
pub(super) mod holes_too_close;
pub(super) mod part_fits_no_sheet;
pub(super) mod thin_floor;
pub(super) mod thin_web;
pub(super) mod work_meets_inside;

use jigless_model::geom::{Bounds, Closest, LENGTH_TOLERANCE, Path, Point, Region, Segment};
use jigless_model::side::Edge;
use rstar::{AABB, RTree, RTreeObject};

use crate::CheckedPart;

/// What a point of the contour belongs to: `left edge`, or `cut` where it is on none of the four edges.
fn what_is_there(piece: &CheckedPart, point: Point) -> String {
    let frame = piece.part().frame();
    let near = Edge::ALL.into_iter().find(|edge| {
        let off = match edge {
            Edge::Left => point.x,
            Edge::Right => frame.width - point.x,
            Edge::Bottom => point.y,
            Edge::Top => frame.height - point.y,
        };
        off.abs() <= LENGTH_TOLERANCE
    });
    near.map_or_else(
        || "nearest cut".to_owned(),
        |edge| format!("{} edge", edge.name()),
    )
}

/// Corners of a closed path where the material is on the outside of the turn, with their radius: 0 for a sharp one.
///
/// Contours have the material on their left, an area that is milled has it on its right; `inside_out` says the latter.
fn inside_corners(path: &Path, inside_out: bool) -> Vec<(Point, f64)> {
    let sense = if inside_out { -1.0 } else { 1.0 };
    let segments: Vec<Segment> = path.segments().collect();
    let mut corners = Vec::new();
    for (index, segment) in segments.iter().enumerate() {
        let next = &segments[(index + 1) % segments.len()];
        if let Segment::Arc(arc) = segment {
            // A whole opening may be a circle, which a bit enters where it likes.
            let inside = arc.bulge * sense < 0.0;
            if inside && path.as_circle().is_none() {
                corners.push((arc.point_at(0.5), arc.radius()));
            } else if inside {
                corners.push((arc.centre(), arc.radius()));
            }
        }
        let turn = leaving(segment).cross(arriving(next));
        if turn * sense < -1e-6 {
            corners.push((segment.to(), 0.0));
        }
    }
    corners
}

/// Direction at the end of a segment, of length 1.
fn leaving(segment: &Segment) -> Point {
    match segment {
        Segment::Line(from, to) => (*to - *from).unit(),
        Segment::Arc(arc) => tangent(arc.centre(), arc.to, arc.bulge),
    }
}

/// Direction at the start of a segment, of length 1.
fn arriving(segment: &Segment) -> Point {
    match segment {
        Segment::Line(from, to) => (*to - *from).unit(),
        Segment::Arc(arc) => tangent(arc.centre(), arc.from, arc.bulge),
    }
}

fn tangent(centre: Point, at: Point, bulge: f64) -> Point {
    (at - centre).left().unit() * bulge.signum()
}

/// A segment of a contour in a spatial index.
struct Piecewise {
    path: usize,
    /// Length along the path where it begins.
    start: f64,
    segment: Segment,
}

impl RTreeObject for Piecewise {
    type Envelope = AABB<[f64; 2]>;

    fn envelope(&self) -> Self::Envelope {
        boxed(self.segment.bounds())
    }
}

fn boxed(bounds: Bounds) -> AABB<[f64; 2]> {
    AABB::from_corners([bounds.min.x, bounds.min.y], [bounds.max.x, bounds.max.y])
}

/// Wood narrower than this, in millimetres, has no width: finer than a shop measures, and no size of a plan is less.
const NO_WIDTH: f64 = 0.01;

/// A way along the contour this much longer than the short cut makes two places of one contour a web; less is the shape
/// of a corner.
const WAY_ROUND: f64 = 3.0;

/// The narrowest wood between two places of the contours that come within `reach` of each other.
fn thinnest_web(region: &Region, reach: f64) -> Option<Closest> {
    let paths: Vec<&Path> = std::iter::once(&region.outer)
        .chain(&region.inner)
        .collect();
    let lengths: Vec<f64> = paths.iter().map(|path| path.length()).collect();
    let mut all = Vec::new();
    for (index, path) in paths.iter().enumerate() {
        let mut start = 0.0;
        for segment in path.segments() {
            let length = segment.length();
            all.push(Piecewise {
                path: index,
                start,
                segment,
            });
            start += length;
        }
    }
    // A plain rectangle is the common case and has no web.
    if all.len() <= 4 {
        return None;
    }
    let tree = RTree::bulk_load(all);
    let mut best: Option<Closest> = None;
    for a in &tree {
        let around = boxed(a.segment.bounds().grown(reach));
        for b in tree.locate_in_envelope_intersecting(around) {
            if (a.path, a.start) >= (b.path, b.start) {
                continue;
            }
            let closest = a.segment.closest_to(&b.segment);
            let middle = closest.on_first.toward(closest.on_second, 0.5);
            // Whether it lies in the material takes a walk around all contours, so that is asked last.
            let web = closest.distance > LENGTH_TOLERANCE
                && best.is_none_or(|best| closest.distance < best.distance)
                && (a.path != b.path
                    || way_round(a, b, &closest, lengths[a.path]) > WAY_ROUND * closest.distance)
                && region.contains(middle);
            if web {
                best = Some(closest);
            }
        }
    }
    best
}

/// The shorter way along one contour between the nearest points of two of its segments.
fn way_round(a: &Piecewise, b: &Piecewise, closest: &Closest, whole: f64) -> f64 {
    let along = |piece: &Piecewise, point: Point| match &piece.segment {
        Segment::Line(from, _) => piece.start + from.distance(point),
        Segment::Arc(arc) => {
            let chord = arc.from.distance(point);
            let half = (chord / (2.0 * arc.radius())).clamp(0.0, 1.0).asin();
            piece.start + 2.0 * half * arc.radius()
        }
    };
    let apart = (along(b, closest.on_second) - along(a, closest.on_first)).abs();
    apart.min(whole - apart)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{circle, rectangle};

    fn boxed(x: f64, y: f64, w: f64, h: f64) -> Path {
        rectangle(Bounds::new(Point::new(x, y), Point::new(x + w, y + h)))
    }

    #[test]
    fn the_web_between_an_opening_and_the_edge_is_found() {
        let region = Region::new(&boxed(0.0, 0.0, 200.0, 100.0))
            .cut(&boxed(1.5, 20.0, 40.0, 40.0))
            .unwrap();
        let web = thinnest_web(&region, 2.0).unwrap();
        assert!((web.distance - 1.5).abs() < 1e-9);
    }

    #[test]
    fn round_openings_come_as_close_as_their_rims() {
        let region = Region::new(&boxed(0.0, 0.0, 200.0, 100.0))
            .cut(&circle(Point::new(60.0, 50.0), 20.0))
            .and_then(|r| r.cut(&circle(Point::new(101.0, 50.0), 20.0)))
            .unwrap();
        let web = thinnest_web(&region, 2.0).unwrap();
        assert!((web.distance - 1.0).abs() < 1e-9, "{web:?}");
    }

    #[test]
    fn a_small_chamfer_and_a_narrow_slot_are_no_webs() {
        let chamfered = Path::of_points(
            [
                (1.0, 0.0),
                (200.0, 0.0),
                (200.0, 100.0),
                (0.0, 100.0),
                (0.0, 1.0),
            ]
            .map(|(x, y)| Point::new(x, y)),
            true,
        );
        assert_eq!(thinnest_web(&Region::new(&chamfered), 2.0), None);
        let slotted = Region::new(&boxed(0.0, 0.0, 200.0, 100.0))
            .cut(&boxed(99.5, 50.0, 1.0, 60.0))
            .unwrap();
        assert_eq!(thinnest_web(&slotted, 2.0), None);
    }

    #[test]
    fn a_tongue_between_two_notches_is_a_web() {
        let region = Region::new(&boxed(0.0, 0.0, 200.0, 100.0))
            .cut(&boxed(50.0, 60.0, 20.0, 60.0))
            .and_then(|r| r.cut(&boxed(71.0, 60.0, 20.0, 60.0)))
            .unwrap();
        let web = thinnest_web(&region, 2.0).unwrap();
        assert!((web.distance - 1.0).abs() < 1e-9);
    }

    #[test]
    fn inside_corners_are_those_of_openings_and_notches() {
        let region = Region::new(&boxed(0.0, 0.0, 200.0, 100.0))
            .cut(&boxed(50.0, 60.0, 20.0, 60.0))
            .unwrap();
        let corners = inside_corners(&region.outer, false);
        assert_eq!(corners.len(), 2);
        assert!(corners.iter().all(|(_, radius)| *radius == 0.0));
        let opened = Region::new(&boxed(0.0, 0.0, 200.0, 100.0))
            .cut(&boxed(50.0, 20.0, 20.0, 30.0))
            .unwrap();
        assert_eq!(inside_corners(&opened.inner[0], false).len(), 4);
        assert!(inside_corners(&opened.outer, false).is_empty());
    }
}
