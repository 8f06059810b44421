//! For tests: what on a sheet lies on what else.

use jigless_model::geom::{Bounds, Path, Point};

use super::item::{Item, ItemShape};

/// Texts that touch another text or a stroke, or reach out of an area: the words and what they touch.
pub(crate) fn collisions(items: &[Item], area: Bounds) -> Vec<(String, String)> {
    let mut bad = Vec::new();
    let boxes: Vec<Option<Bounds>> = items.iter().map(Item::bounds).collect();
    for (index, item) in items.iter().enumerate() {
        let ItemShape::Text(text) = &item.shape else {
            continue;
        };
        let here = text.bounds();
        if !area.contains_box(here, 1e-6) {
            bad.push((text.words.clone(), "border".to_owned()));
        }
        let near = |index: &usize| boxes[*index].is_some_and(|b| b.overlaps(here, -1e-6));
        for other_index in (0..items.len()).filter(near) {
            let other = &items[other_index];
            let touched = match &other.shape {
                ItemShape::Text(other) if other_index != index => other
                    .bounds()
                    .overlaps(here, 1e-6)
                    .then(|| other.words.clone()),
                ItemShape::Stroke(path, pen) => {
                    touches(path, here.grown(pen.width / 2.0)).then(|| format!("{:?}", other.role))
                }
                ItemShape::Ellipse(ellipse, pen) => {
                    let points = (0..200).map(|i| ellipse.point_at(f64::from(i) * 0.0315));
                    let path = Path::of_points(points, true);
                    touches(&path, here.grown(pen.width / 2.0)).then(|| format!("{:?}", other.role))
                }
                _ => None,
            };
            bad.extend(touched.map(|touched| (text.words.clone(), touched)));
        }
    }
    bad
}

/// Whether a path has a point inside a box, looked at every 0.2 mm.
fn touches(path: &Path, inside: Bounds) -> bool {
    let near = path.bounds().and_then(|b| b.intersection(inside));
    let mut points: Vec<Point> = path.flattened(0.01);
    if path.closed {
        points.extend(points.first().copied());
    }
    near.is_some()
        && points.windows(2).any(|pair| {
            let steps = (pair[0].distance(pair[1]) / 0.2).ceil().max(1.0) as usize;
            (0..=steps)
                .any(|i| inside.contains(pair[0].toward(pair[1], i as f64 / steps as f64), -1e-6))
        })
}
