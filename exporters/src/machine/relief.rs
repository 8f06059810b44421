//! Clearing inside corners, so that the square corner of another part goes all the way in.

use std::f64::consts::PI;

use jigless_model::geom::{Path, Point, Vertex};

use super::parallel::turns;
use super::router_options::Relief;

/// A contour with its corners relieved.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Relieved {
    /// The contour.
    pub(super) path: Path,
    /// How many corners were relieved.
    pub(super) corners: usize,
    /// Where the middle of the tool goes to clear each of them.
    pub(super) centres: Vec<Point>,
    /// Corners that were asked for and are not relieved, because no relief is wanted or their walls are too short.
    pub(super) left: Vec<Point>,
}

/// Relieves those corners of a closed contour that are among `mating`, for a tool of a radius. The part lies to the left
/// of the contour, so its inside corners turn to the right.
///
/// A dog-bone is a circle through the corner with its centre on the line between both walls; it overcuts each wall of a
/// square corner by r (1 - 1/sqrt 2). A T-bone is a circle through the corner with its centre on the longer wall, which
/// it overcuts by r. Where two dog-bones do not fit side by side, T-bones take their place.
pub(super) fn relieve(path: &Path, mating: &[Point], style: Relief, radius: f64) -> Relieved {
    let mut out = Relieved {
        path: path.clone(),
        corners: 0,
        centres: Vec::new(),
        left: Vec::new(),
    };
    let count = path.vertices.len();
    let turns = turns(path);
    let is_corner = |i: usize| {
        let (before, here) = (path.vertices[(i + count - 1) % count], path.vertices[i]);
        let straight = before.bulge == 0.0 && here.bulge == 0.0;
        let asked = mating.iter().any(|p| p.distance(here.point) < 1e-6);
        straight && asked && turns[i] < -1e-3 && turns[i] > -PI + 1e-3
    };
    let wall = |i: usize| {
        path.vertices[i]
            .point
            .distance(path.vertices[(i + 1) % count].point)
    };
    // How far along its walls a dog-bone reaches: 2 r cos of half the angle between them.
    let reach = |i: usize| 2.0 * radius * f64::midpoint(PI, turns[i]).cos();
    let fits_dog_bone = |i: usize| {
        let (before, after) = ((i + count - 1) % count, (i + 1) % count);
        let room = |wall: f64, other: usize| {
            wall - if is_corner(other) { reach(other) } else { 0.0 } >= reach(i) + 1e-6
        };
        room(wall(before), before) && room(wall(i), after)
    };
    let mut vertices: Vec<Vertex> = Vec::with_capacity(count + 8);
    for (i, &here) in path.vertices.iter().enumerate() {
        if !is_corner(i) {
            vertices.push(here);
            continue;
        }
        let before = (i + count - 1) % count;
        let back = (path.vertices[before].point - here.point).unit();
        let ahead = (path.vertices[(i + 1) % count].point - here.point).unit();
        let corner = |point: Point, bulge: f64| Vertex { point, bulge };
        if style == Relief::None {
            out.left.push(here.point);
            vertices.push(here);
            continue;
        }
        let centre = if style == Relief::DogBone && fits_dog_bone(i) {
            // The arc through the corner has 2 pi - 2 theta, where theta = pi - turn is between the walls.
            let bulge = -(turns[i].abs() / 2.0).tan();
            vertices.push(corner(here.point + back * reach(i), bulge));
            vertices.push(corner(here.point + ahead * reach(i), 0.0));
            (back + ahead).unit()
        } else if wall(before) >= wall(i) && wall(before) > 2.0 * radius {
            vertices.push(corner(here.point + back * (2.0 * radius), -1.0));
            vertices.push(here);
            back
        } else if wall(i) > 2.0 * radius {
            vertices.push(corner(here.point, -1.0));
            vertices.push(corner(here.point + ahead * (2.0 * radius), 0.0));
            ahead
        } else {
            out.left.push(here.point);
            vertices.push(here);
            continue;
        };
        out.centres.push(here.point + centre * radius);
        out.corners += 1;
    }
    out.path.vertices = vertices;
    out
}

/// The same for the border of a milled area, in which the tool runs.
pub(super) fn relieve_area(
    border: &Path,
    mating: &[Point],
    style: Relief,
    radius: f64,
) -> Relieved {
    let mut out = relieve(&border.reversed(), mating, style, radius);
    out.path = out.path.reversed();
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{Bounds, Region, Segment, rectangle};

    const R: f64 = 3.175;

    fn slotted(width: f64) -> (Path, Vec<Point>) {
        let board = Region::new(&rectangle(Bounds::of_size(100.0, 60.0)));
        let slot = Bounds::new(Point::new(40.0, 30.0), Point::new(40.0 + width, 70.0));
        let mating = vec![slot.min, Point::new(slot.max.x, slot.min.y)];
        (board.cut(&rectangle(slot)).unwrap().outer, mating)
    }

    fn arcs(path: &Path) -> Vec<jigless_model::geom::Arc> {
        path.segments()
            .filter_map(|s| match s {
                Segment::Arc(arc) => Some(arc),
                Segment::Line(..) => None,
            })
            .collect()
    }

    /// The centre of the circle is (r/sqrt 2, r/sqrt 2) inside the corner, so that it just touches it, and each wall is
    /// overcut by r (1 - 1/sqrt 2): 2.2451 and 0.9299 for a tool of 1/4 in (the idea from a public hobby page,
    /// hightechdiy.com; the numbers derived).
    #[test]
    fn a_dog_bone_touches_the_corner_and_cuts_no_more() {
        let (path, mating) = slotted(20.0);
        let relieved = relieve(&path, &mating, Relief::DogBone, R);
        assert_eq!((relieved.corners, relieved.left.len()), (2, 0));
        let arcs = arcs(&relieved.path);
        assert_eq!(arcs.len(), 2);
        // The contour runs counter-clockwise, so it meets the right corner first.
        for (arc, corner) in arcs.iter().zip(mating.iter().rev()) {
            assert!((arc.radius() - R).abs() < 1e-9);
            assert!((arc.centre().distance(*corner) - R).abs() < 1e-9);
            assert!(((arc.centre().x - corner.x).abs() - 2.245_1).abs() < 1e-4);
            let left = arc.bounds().min.x.min(corner.x) - 40.0;
            let right = arc.bounds().max.x - 60.0;
            let over = if corner.x < 50.0 { -left } else { right };
            assert!((over - 0.929_9).abs() < 1e-4, "{over}");
            assert!((30.0 - arc.bounds().min.y - 0.929_9).abs() < 1e-4);
        }
    }

    /// The centre is on the wall, r from the corner; the wall is overcut by r (derived).
    #[test]
    fn a_t_bone_cuts_into_the_longer_wall() {
        let (path, mating) = slotted(20.0);
        let relieved = relieve(&path, &mating, Relief::TBone, R);
        let arcs = arcs(&relieved.path);
        assert_eq!(arcs.len(), 2);
        for arc in arcs {
            assert!((arc.radius() - R).abs() < 1e-9);
            assert!((arc.centre().y - 30.0 - R).abs() < 1e-9);
            let bounds = arc.bounds();
            assert!((bounds.width() - R).abs() < 1e-9 && (bounds.min.y - 30.0).abs() < 1e-9);
            assert!(bounds.min.x < 37.0 || bounds.max.x > 63.0);
        }
    }

    #[test]
    fn narrow_slots_get_t_bones_and_other_corners_none() {
        let (path, mating) = slotted(8.0);
        let relieved = relieve(&path, &mating, Relief::DogBone, R);
        assert_eq!(relieved.corners, 2);
        assert!(
            arcs(&relieved.path)
                .iter()
                .all(|arc| (arc.bulge + 1.0).abs() < 1e-12)
        );
        assert_eq!(relieve(&path, &[], Relief::DogBone, R).path, path);
        assert_eq!(relieve(&path, &mating, Relief::None, R).path, path);
        let everywhere: Vec<Point> = path.vertices.iter().map(|v| v.point).collect();
        assert_eq!(relieve(&path, &everywhere, Relief::DogBone, R).corners, 2);
    }
}
