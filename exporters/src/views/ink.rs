//! A picture as strokes and areas on paper.

use jigless_model::geom::{Path, Point};
use jigless_model::plan::Plan;
use jigless_solid::view::{LineKind, Picture, area};

use super::scene::{Emphasis, Scene};
use crate::drawing::{Dash, Ink, Item, Pen, Role, Tint};
use crate::shades::{ACCENT, FAINT, base_of, shaded};

/// Pens of outlines and creases, for large things and for small ones (ISO 128: thick to thin 2:1).
const BOLD: [Pen; 2] = [Pen::new(0.5, Ink::BLACK), Pen::new(0.25, Ink::BLACK)];
const FINE: [Pen; 2] = [Pen::new(0.35, Ink::BLACK), Pen::new(0.18, Ink::BLACK)];
const HIDDEN: Pen = Pen::new(0.18, Ink(90, 90, 90)).dashed(Dash::Hidden);
const IN_THE_BACKGROUND: Pen = Pen::new(0.13, Ink(150, 150, 150));
const HATCHING: Pen = Pen::new(0.13, Ink::BLACK);
const ROOM: Pen = Pen::new(0.25, Ink(120, 120, 120));
const FLIGHT: Pen = Pen::new(0.18, Ink(70, 70, 70)).dashed(Dash::Centre);

/// How a picture is inked.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Look {
    /// Millimetres of paper for a millimetre of the thing.
    pub(crate) scale: f64,
    /// Greys, or a tint for each material.
    pub(crate) tint: Tint,
    /// Whether the pens are those for small things.
    pub(crate) fine: bool,
}

/// A picture on paper; 0,0 of the camera stays 0,0.
pub(crate) fn inked(plan: &Plan, scene: &Scene, picture: &Picture, look: Look) -> Vec<Item> {
    let place = |point: Point| point * look.scale;
    let mut items = Vec::new();
    for seen in &picture.areas {
        let stock = &plan.parts[scene.pieces[seen.body].part].stock;
        let number = plan
            .stock
            .iter()
            .position(|s| s.id == stock.id)
            .unwrap_or(0);
        let base = match scene.emphasis[seen.body] {
            Emphasis::Plain => base_of(stock.kind, number),
            Emphasis::Accent => ACCENT,
            Emphasis::Faint => FAINT,
        };
        let ink = shaded(base, seen.light, look.tint);
        // What is smaller than a pen is wide would only add to the file.
        let size: f64 = seen.borders.iter().map(|b| area(b)).sum::<f64>() * look.scale * look.scale;
        if size < 0.01 {
            continue;
        }
        if scene.is_cut(seen.body, seen.facet) {
            items.push(Item::fill(
                Role::Side,
                joined(&seen.borders, place),
                Ink(255, 255, 255),
            ));
            items.extend(hatching(&seen.borders, look.scale, seen.body));
            continue;
        }
        items.push(Item::fill(Role::Side, joined(&seen.borders, place), ink));
    }
    for (from, to) in &scene.room {
        items.push(Item::line(Role::Room, place(*from), place(*to), ROOM));
    }
    for (from, to) in &scene.flights {
        items.push(Item::line(Role::Flight, place(*from), place(*to), FLIGHT));
    }
    let [outline, crease] = if look.fine { FINE } else { BOLD };
    for stroke in &picture.strokes {
        let (role, pen) = match stroke.kind {
            LineKind::Hidden => (Role::Hidden, HIDDEN),
            LineKind::Crease => (Role::Crease, crease),
            LineKind::Outline => (Role::Outline, outline),
        };
        let pen = match scene.emphasis[stroke.body] {
            Emphasis::Faint => IN_THE_BACKGROUND,
            Emphasis::Plain | Emphasis::Accent => pen,
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

/// Distance of the lines of a cut, in millimetres.
const HATCH: f64 = 1.6;

/// Thin lines at 45 degrees over what was cut (ISO 128), leaning the other way and lying elsewhere on the next piece.
fn hatching(borders: &[Vec<Point>], scale: f64, body: usize) -> Vec<Item> {
    let way = Point::new(1.0, if body.is_multiple_of(2) { 1.0 } else { -1.0 }).unit();
    let across = way.left();
    let points = borders.iter().flatten().map(|p| (*p * scale).dot(across));
    let (low, high) = points.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
        (low.min(at), high.max(at))
    });
    let mut lines = Vec::new();
    let mut off = (low / HATCH).ceil() * HATCH + (body % 3) as f64 * HATCH / 3.0;
    while off < high {
        let mut crossings: Vec<f64> = Vec::new();
        for border in borders {
            for (a, b) in border.iter().zip(border.iter().cycle().skip(1)) {
                let (a, b) = (*a * scale, *b * scale);
                let (from, to) = (a.dot(across) - off, b.dot(across) - off);
                if (from > 0.0) != (to > 0.0) {
                    crossings.push(a.toward(b, from / (from - to)).dot(way));
                }
            }
        }
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2) {
            let point = |along: f64| way * along + across * off;
            lines.push(Item::line(
                Role::Hatch,
                point(pair[0]),
                point(pair[1]),
                HATCHING,
            ));
        }
        off += HATCH;
    }
    lines
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
