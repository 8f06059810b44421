//! What was seen, in words.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use jigless_model::units::decimal;

use super::inspection::Inspection;

/// Kinds of entities with their numbers, how many are closed and how many open, and heights in micrometres.
#[derive(Default)]
struct LayerSummary {
    kinds: BTreeMap<&'static str, usize>,
    closed: usize,
    open: usize,
    heights: BTreeSet<i64>,
}

impl fmt::Display for Inspection {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = |value: f64| decimal(value, 3);
        writeln!(f, "format: {}", self.format)?;
        writeln!(f, "unit: {}", self.unit.unwrap_or("none named"))?;
        if let Some(bounds) = self.worked().or(self.bounds()) {
            let (w, h) = (bounds.width(), bounds.height());
            writeln!(f, "size of the work: {} by {} mm", number(w), number(h))?;
            writeln!(
                f,
                "lower left corner: {}, {} mm",
                number(bounds.min.x),
                number(bounds.min.y)
            )?;
            for (guess, scale) in self.guesses() {
                writeln!(
                    f,
                    "  taken as {guess}: {} by {} mm",
                    number(w * scale),
                    number(h * scale)
                )?;
            }
        }
        writeln!(f, "layers:")?;
        for (name, layer) in self.layers() {
            let kinds: Vec<String> = layer
                .kinds
                .iter()
                .map(|(kind, count)| format!("{count} {kind}"))
                .collect();
            write!(
                f,
                "  {name}: {}; {} closed, {} open",
                kinds.join(", "),
                layer.closed,
                layer.open
            )?;
            let heights: Vec<String> = layer
                .heights
                .iter()
                .filter(|height| **height != 0)
                .map(|height| number(*height as f64 / 1000.0))
                .collect();
            if !heights.is_empty() {
                write!(f, "; z {} mm", heights.join(", "))?;
            }
            if let Some(depth) = depth_in_name(&name) {
                write!(f, "; depth by name {depth}")?;
            }
            writeln!(f)?;
        }
        for (layer, count) in &self.texts {
            writeln!(f, "  {layer}: {count} texts")?;
        }
        match self.smallest_inside_radius() {
            Some(radius) => writeln!(f, "smallest inside radius: {} mm", number(radius))?,
            None => writeln!(
                f,
                "smallest inside radius: none, all inside corners are sharp or there are none"
            )?,
        }
        if self.faults.is_empty() {
            return writeln!(f, "no faults");
        }
        writeln!(f, "faults:")?;
        for fault in &self.faults {
            writeln!(f, "  {}: {}", fault.code, fault.message)?;
        }
        Ok(())
    }
}

impl Inspection {
    /// How much larger the work becomes where its unit is taken for another one.
    fn guesses(&self) -> Vec<(&'static str, f64)> {
        if self.format.starts_with("SVG") {
            // Programs that go by view box units alone take them for pixels of one of these sizes.
            return [
                ("72 dots per inch", 72.0),
                ("90 dots per inch", 90.0),
                ("96 dots per inch", 96.0),
            ]
            .into_iter()
            .map(|(guess, dots)| (guess, 25.4 / dots / self.scale))
            .collect();
        }
        [("mm", 1.0), ("cm", 10.0), ("in", 25.4)]
            .into_iter()
            .filter(|(guess, _)| self.unit != Some(guess))
            .map(|(guess, mm)| (guess, mm / self.scale))
            .collect()
    }

    fn layers(&self) -> BTreeMap<String, LayerSummary> {
        let mut layers: BTreeMap<String, LayerSummary> = BTreeMap::new();
        for entity in &self.entities {
            let layer = layers.entry(entity.layer.clone()).or_default();
            *layer.kinds.entry(entity.kind).or_insert(0) += 1;
            if entity.contour().is_some() {
                layer.closed += 1;
            } else {
                layer.open += 1;
            }
            layer.heights.insert((entity.z * 1000.0).round() as i64);
        }
        layers
    }
}

/// The depth that a layer's name ends in: `12.5` of `DRILL_12-5`.
fn depth_in_name(name: &str) -> Option<String> {
    let (_, last) = name.rsplit_once('_')?;
    let (digits, unit) = match last.strip_suffix("IN") {
        Some(digits) => (digits, " in"),
        None => (last, " mm"),
    };
    let number = digits.replace('-', ".");
    let value: f64 = number.parse().ok()?;
    (value > 0.0).then(|| format!("{number}{unit}"))
}
