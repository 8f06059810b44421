//! How much a laser cuts and marks, and how long that takes.

use jigless_model::units::{Unit, decimal};

use super::drawing::{LayerDrawing, LayerShape};
use super::laser_options::LaserOptions;
use super::layers::{Layer, MachiningStep};

/// What a file says of it: lengths, and the time where the speed is known.
pub(super) fn statements(
    drawing: &LayerDrawing,
    options: &LaserOptions,
    unit: Unit,
) -> Vec<String> {
    let of = |wanted: &dyn Fn(Layer) -> bool| -> (usize, f64) {
        let items = drawing.items.iter().filter(|item| wanted(item.layer));
        items.fold((0, 0.0), |(count, sum), item| {
            (count + 1, sum + length(&item.shape))
        })
    };
    let is_mark = |layer: Layer| layer.step() == MachiningStep::Mark;
    let cuts = of(&|layer| layer.is_worked() && !is_mark(layer));
    let marks = of(&is_mark);
    let line = |name: &str, (count, length): (usize, f64), speed: Option<f64>| {
        let time = speed.map_or(String::new(), |speed| {
            let minutes = decimal((length / speed).max(0.1), 1);
            format!(
                ", about {minutes} minutes at {} a minute, without the ways between",
                unit.show(speed)
            )
        });
        (count > 0).then(|| {
            format!(
                "{name}: {count} lines, {} in all{time}",
                unit.show(length.round())
            )
        })
    };
    [
        line("Cut", cuts, options.speed),
        line("Marked", marks, options.mark_speed),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn length(shape: &LayerShape) -> f64 {
    match shape {
        LayerShape::Circle { radius, .. } => std::f64::consts::TAU * radius,
        LayerShape::Path(path) => path.length(),
        LayerShape::Text(_) => 0.0,
    }
}
