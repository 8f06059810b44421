//! What is seen of each facet, as areas on paper.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use jigless_model::geom::{Bounds, Point};
use jigless_model::whole::Triple;

use super::camera::Camera;
use super::surface::{Reach, Shown, Surface, meets};
use crate::grid::{self, Contour};
use crate::vector::{dot, unit};

/// What is seen of a facet.
#[derive(Debug, Clone, PartialEq)]
pub struct Area {
    /// Number of its body.
    pub body: usize,
    /// Number of the facet in its body.
    pub facet: usize,
    /// Its borders, in millimetres of the thing: outer ones counter-clockwise, inner ones clockwise.
    pub borders: Vec<Vec<Point>>,
    /// How light it is, from 0 to 1: what looks up is lightest, what looks to the front is next, a side is darkest.
    pub light: f64,
}

/// What is no nearer than this, in millimetres, hides nothing.
const NEARER: f64 = 1e-4;
/// Smaller areas, in square millimetres, are nothing.
const NOTHING: f64 = 1e-3;

/// The areas of a picture, body by body.
pub(super) fn areas(bodies: &[Shown], surface: &Surface, camera: &Camera) -> Vec<Area> {
    let mut areas = Vec::new();
    let mut near = Vec::new();
    for (body, shown) in bodies.iter().enumerate() {
        for (facet, number) in surface.of_facet[body].iter().enumerate() {
            let Some(number) = number else { continue };
            let patch = &surface.patches[*number as usize];
            let nearest = nearest_of(patch.bounds, |at| patch.nearness(at));
            if surface.is_hidden(patch.bounds, nearest) {
                continue;
            }
            surface.near(Reach::of_box(patch.bounds), &mut near);
            let mut tools: Vec<Contour> = Vec::new();
            for &other in near.iter().filter(|other| *other != number) {
                let other = &surface.patches[other as usize];
                let Some(common) = other.bounds.intersection(patch.bounds) else {
                    continue;
                };
                let ahead = |at: Point| other.nearness(at) - patch.nearness(at) - NEARER;
                let corners = corners_of(common).map(ahead);
                if corners.iter().all(|ahead| *ahead <= 0.0) {
                    continue;
                }
                let whole = corners.iter().all(|ahead| *ahead > 0.0);
                // An inner border elsewhere on the other patch changes nothing here.
                let here = other
                    .borders
                    .iter()
                    .filter(|(b, _)| meets(*b, patch.bounds));
                for (_, border) in here {
                    let border = if whole {
                        border.clone()
                    } else {
                        where_positive(border, ahead)
                    };
                    if border.len() > 2 {
                        tools.push(border.iter().map(|at| grid::node(*at)).collect());
                    }
                }
            }
            let own: Vec<Contour> = patch
                .borders
                .iter()
                .map(|(_, border)| border.iter().map(|at| grid::node(*at)).collect())
                .collect();
            let left = grid::combined(&own, FillRule::NonZero, &tools, OverlayRule::Difference);
            let borders: Vec<Vec<Point>> = left
                .iter()
                .map(|contour| contour.iter().map(|node| grid::point(*node)).collect())
                .collect();
            if borders.iter().map(|border| area(border)).sum::<f64>() > NOTHING {
                areas.push(Area {
                    body,
                    facet,
                    borders,
                    light: light(shown.mesh.facets[facet].normal, camera),
                });
            }
        }
    }
    areas
}

/// Area inside a border; negative where it runs clockwise.
pub fn area(border: &[Point]) -> f64 {
    let next = border.iter().cycle().skip(1);
    border
        .iter()
        .zip(next)
        .map(|(a, b)| a.cross(*b))
        .sum::<f64>()
        / 2.0
}

fn corners_of(bounds: Bounds) -> [Point; 4] {
    let Bounds { min, max } = bounds;
    [min, Point::new(max.x, min.y), max, Point::new(min.x, max.y)]
}

fn nearest_of(bounds: Bounds, nearness: impl Fn(Point) -> f64) -> f64 {
    corners_of(bounds)
        .map(nearness)
        .into_iter()
        .fold(f64::MIN, f64::max)
}

/// What of a border lies where something that changes evenly is positive.
fn where_positive(border: &[Point], value: impl Fn(Point) -> f64) -> Vec<Point> {
    let mut kept = Vec::with_capacity(border.len() + 2);
    let mut before = border[border.len() - 1];
    let mut value_before = value(before);
    for &here in border {
        let value_here = value(here);
        if (value_here > 0.0) != (value_before > 0.0) {
            kept.push(before.toward(here, value_before / (value_before - value_here)));
        }
        if value_here > 0.0 {
            kept.push(here);
        }
        (before, value_before) = (here, value_here);
    }
    kept
}

/// Light falls from above, from the front and a little from the left of whoever looks, so that no two faces of a box that
/// are seen together are equally light.
fn light(normal: Triple, camera: &Camera) -> f64 {
    let from = unit([-0.25, 0.85, 0.45]);
    let share = f64::midpoint(dot(normal, from), 1.0);
    let facing = dot(normal, camera.toward);
    (0.9 * share + 0.1 * facing).clamp(0.0, 1.0)
}
