//! The width of a laser's cut: lines are moved by half of it, once, so that what is left has its nominal size.

use jigless_model::geom::{Path, Point, Vertex, circle};
use jigless_model::plan::Stock;
use jigless_model::units::Unit;

use super::drawing::{LayerDrawing, LayerShape};
use super::laser_options::{Kerf, LaserOptions};
use super::layers::Layer;
use super::parallel::followed;
use super::short_segments::SHORTEST_SEGMENT;

/// How far straight pieces may lie from an arc where a kerf that differs by axis makes it no arc any more, in
/// millimetres.
const CHORD_ERROR: f64 = 0.005;

/// The kerf for a stock.
pub(super) fn of_stock(options: &LaserOptions, stock: &Stock) -> Kerf {
    let near = |a: f64, b: f64| (a - b).abs() <= 0.5;
    let rule = options.kerfs.iter().find(|rule| {
        rule.stock.as_ref().is_none_or(|id| *id == stock.id)
            && rule.kind.is_none_or(|kind| kind == stock.kind)
            && rule.thickness.is_none_or(|t| {
                near(t, stock.thickness) || stock.nominal.is_some_and(|nominal| near(t, nominal))
            })
    });
    rule.map_or(options.kerf, |rule| rule.kerf)
}

/// What a file says of its kerf.
pub(super) fn statement(kerf: Kerf, unit: Unit) -> String {
    match kerf.axes() {
        (0.0, _) => {
            "Kerf: none applied; lines are nominal, allow for it in your program".to_owned()
        }
        (x, y) if x.to_bits() == y.to_bits() => format!(
            "Kerf: {} applied; allow for none in your program",
            unit.show(x)
        ),
        (x, y) => format!(
            "Kerf: {} along x, {} along y applied; allow for none in your program",
            unit.show(x),
            unit.show(y)
        ),
    }
}

/// Moves every cut of a drawing by half the kerf. Gives the middles of what the beam is too wide for, which is left out.
pub(super) fn apply(drawing: &mut LayerDrawing, kerf: Kerf) -> Vec<Point> {
    let mut lost = Vec::new();
    drawing.items.retain_mut(|item| {
        let outward = match item.layer {
            Layer::CutOutside => true,
            Layer::CutInside | Layer::Register => false,
            _ => return true,
        };
        if let Some(shape) = moved(&item.shape, outward, kerf) {
            item.shape = shape;
            return true;
        }
        lost.extend(item.shape.bounds().map(jigless_model::geom::Bounds::centre));
        false
    });
    lost
}

/// A cut moved by half the kerf: outward an outline, inward an opening. `None` where the beam is wider than a slot or
/// opening.
pub(super) fn moved(shape: &LayerShape, outward: bool, kerf: Kerf) -> Option<LayerShape> {
    let (x, y) = kerf.axes();
    if x == 0.0 {
        return Some(shape.clone());
    }
    let sign = if outward { 0.5 } else { -0.5 };
    let path = match shape {
        LayerShape::Circle { centre, radius } => circle(*centre, *radius),
        LayerShape::Path(path) => path.clone(),
        LayerShape::Text(_) => return Some(shape.clone()),
    };
    if x.to_bits() == y.to_bits() {
        let path = followed(&path, sign * x)?;
        return Some(LayerShape::of_path(
            &path.with_sharp_corners(SHORTEST_SEGMENT),
        ));
    }
    // Stretched along y so that both kerfs are alike, moved, and pressed back.
    let straight = Path::of_points(path.flattened(CHORD_ERROR), true);
    let moved = followed(&stretched(&straight, x / y), sign * x)?;
    // Around corners the moved path has arcs, which would not be arcs when pressed back.
    let sharp = moved.with_sharp_corners(f64::INFINITY);
    let straight = Path {
        vertices: sharp
            .vertices
            .iter()
            .map(|v| Vertex { bulge: 0.0, ..*v })
            .collect(),
        closed: true,
    };
    Some(LayerShape::of_path(&stretched(&straight, y / x)))
}

fn stretched(path: &Path, by: f64) -> Path {
    let vertices = path
        .vertices
        .iter()
        .map(|v| Vertex {
            point: Point::new(v.point.x, v.point.y * by),
            bulge: v.bulge,
        })
        .collect();
    Path {
        vertices,
        closed: path.closed,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::{Bounds, rectangle, rounded_rectangle};

    fn path_of(shape: Option<LayerShape>) -> Path {
        match shape {
            Some(LayerShape::Path(path)) => path,
            other => panic!("{other:?}"),
        }
    }

    /// A laser bureau's example: with a kerf of 0.2 a drawn 40 leaves a part of 39.8 and a hole of 40.2, so 40.2 is drawn
    /// for a part of 40; and the classic mistake is the whole kerf for each edge.
    #[test]
    fn half_the_kerf_on_each_edge() {
        let square = LayerShape::of_path(&rectangle(Bounds::of_size(40.0, 40.0)));
        let outside = path_of(moved(&square, true, Kerf::Even(0.2)))
            .bounds()
            .unwrap();
        assert!((outside.width() - 40.2).abs() < 1e-9);
        let inside = path_of(moved(&square, false, Kerf::Even(0.2)))
            .bounds()
            .unwrap();
        assert!((inside.width() - 39.8).abs() < 1e-9);
        let hole = LayerShape::Circle {
            centre: Point::new(5.0, 5.0),
            radius: 2.5,
        };
        let Some(LayerShape::Circle { radius, .. }) = moved(&hole, false, Kerf::Even(0.15)) else {
            panic!("a hole stays a circle");
        };
        assert!((radius - 2.425).abs() < 1e-12);
    }

    /// A university workshop's example, whose kerfs are for each edge, so twice that here: 0.5 in wide with .002 upright
    /// and .004 level edges is drawn .496 by .492 (support.dma.ucla.edu/fablab).
    #[test]
    fn a_kerf_by_axis() {
        let inch = 25.4;
        let hole = LayerShape::of_path(&rectangle(Bounds::of_size(0.5 * inch, 0.5 * inch)));
        let kerf = Kerf::ByAxis {
            x: 0.004 * inch,
            y: 0.008 * inch,
        };
        let drawn = path_of(moved(&hole, false, kerf)).bounds().unwrap();
        assert!((drawn.width() / inch - 0.496).abs() < 1e-9);
        assert!((drawn.height() / inch - 0.492).abs() < 1e-9);
        let outside = path_of(moved(&hole, true, kerf));
        assert_eq!(outside.vertices.len(), 4);
        assert!((outside.bounds().unwrap().height() / inch - 0.508).abs() < 1e-9);
    }

    #[test]
    fn arcs_stay_arcs() {
        let shape = LayerShape::of_path(&rounded_rectangle(Bounds::of_size(40.0, 30.0), 5.0));
        let path = path_of(moved(&shape, true, Kerf::Even(0.15)));
        assert_eq!(path.vertices.iter().filter(|v| v.bulge != 0.0).count(), 4);
        assert_eq!(path.vertices.len(), 8);
    }

    #[test]
    fn what_is_narrower_than_the_beam_is_reported() {
        let slit = LayerShape::of_path(&rectangle(Bounds::of_size(40.0, 0.1)));
        assert_eq!(moved(&slit, false, Kerf::Even(0.15)), None);
        let pin = LayerShape::Circle {
            centre: Point::default(),
            radius: 0.05,
        };
        assert_eq!(moved(&pin, false, Kerf::Even(0.15)), None);
    }
}
