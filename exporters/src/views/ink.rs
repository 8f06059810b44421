//! A picture as strokes and areas on paper.

use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::plan::Plan;
use jigless_solid::view::{LineKind, Picture, area};

use super::scene::Scene;
use crate::drawing::{Dash, Ink, Item, Pen, Role, Tint};
use crate::shades::{base_of, shaded};

/// Pens of a picture (ISO 128: thick to thin 2:1).
const OUTLINE: Pen = Pen::new(0.5, Ink::BLACK);
const CREASE: Pen = Pen::new(0.25, Ink::BLACK);
const HIDDEN: Pen = Pen::new(0.18, Ink(90, 90, 90)).dashed(Dash::Hidden);
const FLIGHT: Pen = Pen::new(0.18, Ink(70, 70, 70)).dashed(Dash::Centre);

/// How a picture is inked.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Look {
    /// Millimetres of paper for a millimetre of the thing.
    pub(crate) scale: f64,
    /// Greys, or a tint for each material.
    pub(crate) tint: Tint,
}

/// A picture on paper; 0,0 of the camera stays 0,0.
pub(crate) fn inked(plan: &Plan, scene: &Scene, picture: &Picture, look: Look) -> Vec<Item> {
    let place = |point: Point| point * look.scale;
    let mut items = Vec::new();
    for seen in &picture.areas {
        let stock = &plan.parts[scene.pieces[seen.body].part].stock;
        let number = plan.stock.iter().position(|s| s.id == stock.id).unwrap_or(0);
        let ink = shaded(base_of(stock.kind, number), seen.light, look.tint);
        // What is smaller than a pen is wide would only add to the file.
        let size: f64 = seen.borders.iter().map(|b| area(b)).sum::<f64>() * look.scale * look.scale;
        if size < 0.01 {
            continue;
        }
        items.push(Item::fill(Role::Side, joined(&seen.borders, place), ink));
    }
    for (from, to) in &scene.flights {
        items.push(Item::line(Role::Flight, place(*from), place(*to), FLIGHT));
    }
    for stroke in &picture.strokes {
        let (role, pen) = match stroke.kind {
            LineKind::Hidden => (Role::Hidden, HIDDEN),
            LineKind::Crease => (Role::Crease, CREASE),
            LineKind::Outline => (Role::Outline, OUTLINE),
        };
        let mut points: Vec<Point> = stroke.points.iter().map(|p| place(*p)).collect();
        let closed = points.len() > 3 && points[0].distance(points[points.len() - 1]) < 1e-3;
        if closed {
            points.pop();
        }
        items.push(Item::stroke(role, Path::of_points(points, closed), pen));
    }
    items
}

/// Borders as one closed path: it goes over to each and comes back the same way, which fills nothing.
fn joined(borders: &[Vec<Point>], place: impl Fn(Point) -> Point) -> Path {
    let start = borders[0][0];
    let mut points: Vec<Point> = borders[0].iter().map(|p| place(*p)).collect();
    for border in &borders[1..] {
        points.push(place(start));
        points.extend(border.iter().map(|p| place(*p)));
        points.push(place(border[0]));
    }
    if borders.len() > 1 {
        points.push(place(start));
    }
    Path::of_points(points, true)
}

/// The box of a picture on paper.
pub(crate) fn canvas(picture: &Picture, scale: f64) -> Bounds {
    Bounds {
        min: picture.bounds.min * scale,
        max: picture.bounds.max * scale,
    }
}
