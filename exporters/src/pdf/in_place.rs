//! A small picture of the finished piece with one part of it filled, so that nobody mistakes a part for another.

use jigless_model::geom::{Bounds, Path, Point};
use jigless_model::plan::Plan;
use jigless_model::whole::Box3;

use crate::drawing::{Ink, Item, Pen, Role};

/// From where the piece is seen: to the right of its front and above it, in degrees.
const SEEN_FROM: (f64, f64) = (32.0, 24.0);

/// The boxes of all pieces of a plan, as they are seen.
#[derive(Debug)]
pub(super) struct FinishedPiece {
    /// Id of the part and outline, the farthest first.
    outlines: Vec<(String, Vec<Point>)>,
    extent: Option<Bounds>,
}

impl FinishedPiece {
    /// Of a plan; without a picture where its parts have no places.
    pub(super) fn new(plan: &Plan) -> Self {
        let (across, above) = (SEEN_FROM.0.to_radians(), SEEN_FROM.1.to_radians());
        let (sin, cos) = across.sin_cos();
        let (rise, run) = above.sin_cos();
        let right = [cos, 0.0, -sin];
        let up = [-rise * sin, run, -rise * cos];
        let toward = [run * sin, rise, run * cos];
        let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        let seen = |at: [f64; 3]| Point::new(dot(at, right), dot(at, up));
        let mut boxes: Vec<(f64, String, Vec<Point>)> = Vec::new();
        for part in &plan.parts {
            for body in part.bodies() {
                let box_ = body.bounds();
                let middle = [0, 1, 2].map(|axis| f64::midpoint(box_.min[axis], box_.max[axis]));
                let outline = hexagon(box_).map(seen).to_vec();
                boxes.push((dot(middle, toward), part.id.clone(), outline));
            }
        }
        boxes.sort_by(|a, b| a.0.total_cmp(&b.0));
        let corners = boxes
            .iter()
            .flat_map(|(_, _, outline)| outline.iter().copied());
        Self {
            extent: Bounds::of_points(corners),
            outlines: boxes
                .into_iter()
                .map(|(_, id, outline)| (id, outline))
                .collect(),
        }
    }

    /// Whether there is a picture with a part in it.
    pub(super) fn shows(&self, part: &str) -> bool {
        self.outlines.iter().any(|(id, _)| id == part)
    }

    /// The picture inside a box, some parts filled.
    pub(super) fn draw(&self, inside: Bounds, parts: &[&str]) -> Vec<Item> {
        let Some(extent) = self.extent else {
            return Vec::new();
        };
        let scale = (inside.width() / extent.width().max(1.0))
            .min(inside.height() / extent.height().max(1.0));
        let by = inside.centre() - extent.centre() * scale;
        let path = |outline: &[Point]| {
            Path::of_points(outline.iter().map(|point| *point * scale + by), true)
        };
        let mut items = Vec::new();
        for (_, outline) in &self.outlines {
            items.push(Item::fill(Role::Frame, path(outline), Ink(255, 255, 255)));
            let pen = Pen::new(0.1, Ink::GREY);
            items.push(Item::stroke(Role::Frame, path(outline), pen));
        }
        // The part itself over all others, also where it is hidden in the piece.
        let own = self
            .outlines
            .iter()
            .filter(|(id, _)| parts.contains(&id.as_str()));
        for (_, outline) in own {
            items.push(Item::fill(Role::Frame, path(outline), Ink(120, 120, 120)));
            let pen = Pen::new(0.25, Ink::BLACK);
            items.push(Item::stroke(Role::Frame, path(outline), pen));
        }
        items
    }
}

/// The corners of a box that bound what is seen of it from the right, above and in front, one after the other.
fn hexagon(box_: Box3) -> [[f64; 3]; 6] {
    let (a, b) = (box_.min, box_.max);
    [
        [a[0], a[1], b[2]],
        [b[0], a[1], b[2]],
        [b[0], a[1], a[2]],
        [b[0], b[1], a[2]],
        [a[0], b[1], a[2]],
        [a[0], b[1], b[2]],
    ]
}
