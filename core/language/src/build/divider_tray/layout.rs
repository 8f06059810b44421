//! The numbers of a tray: where everything is, before it is parts. Millimetres; x to the right and y to the back, 0,0 at
//! the outer front left corner.

use super::keys::{BaseFit, Corners, CutKeys};
use crate::codes;
use jigless_model::diag::Finding;
use jigless_model::source::{Span, Spanned};
use jigless_model::units::Unit;

/// The most compartments in a row.
pub(super) const MOST_BAYS: u32 = 100;

/// The least material between two cuts, in millimetres. Common practice, no source.
const LEAST_BETWEEN: f64 = 2.0;

/// What is asked for.
#[derive(Debug)]
pub(super) struct Spec {
    /// Where the plan asks for it.
    pub(super) span: Span,
    pub(super) stock: String,
    pub(super) base_stock: String,
    /// Outer size.
    pub(super) width: Spanned<f64>,
    pub(super) depth: Spanned<f64>,
    /// Height of the walls.
    pub(super) height: Spanned<f64>,
    pub(super) columns: Bays,
    pub(super) rows: Bays,
    pub(super) corners: Corners,
    /// Name of the fit.
    pub(super) fit: &'static str,
    pub(super) clearance: f64,
    pub(super) base: BaseFit,
    /// How far a groove for the base is above the lower edge of the walls.
    pub(super) base_up: f64,
    pub(super) doubled: bool,
    /// Hollows for the fingers.
    pub(super) cuts: Option<CutKeys>,
    pub(super) unit: Unit,
}

/// The compartments of a row: how many, and the clear sizes of the first of them.
#[derive(Debug)]
pub(super) struct Bays {
    pub(super) count: u32,
    pub(super) sizes: Vec<Spanned<f64>>,
}

/// Thickness of the stock: the mean, which sizes follow, and the thickest reading, which slots follow.
#[derive(Debug, Clone, Copy)]
pub(super) struct Thickness {
    pub(super) wall: f64,
    pub(super) wall_thickest: f64,
    pub(super) base: f64,
    pub(super) base_thickest: f64,
}

/// Where everything is.
#[derive(Debug)]
pub(super) struct Layout {
    pub(super) thickness: Thickness,
    pub(super) width: f64,
    pub(super) depth: f64,
    /// Width of a slot.
    pub(super) slot: f64,
    /// Height of the dividers.
    pub(super) divider_height: f64,
    /// Depth of a slot: half the height of the dividers.
    pub(super) lap: f64,
    /// Thickness of all layers of a wall.
    pub(super) walls: f64,
    /// Middle of each divider between columns.
    pub(super) column_lines: Vec<f64>,
    /// Middle of each column.
    pub(super) column_middles: Vec<f64>,
    /// Middle of each divider between rows.
    pub(super) row_lines: Vec<f64>,
    /// Middle of each row.
    pub(super) row_middles: Vec<f64>,
    /// Number and height of the fingers of a corner.
    pub(super) fingers: (usize, f64),
}

impl Layout {
    /// # Errors
    /// What does not fit.
    pub(super) fn new(spec: &Spec, thickness: Thickness) -> Result<Self, Box<Finding>> {
        let layers = if spec.doubled { 2.0 } else { 1.0 };
        let walls = layers * thickness.wall;
        let divider_height = match spec.base {
            BaseFit::None | BaseFit::Glued => spec.height.value,
            BaseFit::Groove => spec.height.value - spec.base_up - thickness.base_thickest,
        };
        if divider_height < 10.0 {
            return Err(Box::new(too_small(
                spec,
                spec.height,
                "nothing is left of the dividers' height",
                "make the walls at least 10 mm higher than the base's upper side",
            )));
        }
        let slot = thickness.wall_thickest + spec.clearance;
        let (column_lines, column_middles) =
            lines(spec, spec.width, &spec.columns, walls, thickness.wall, slot)?;
        let (row_lines, row_middles) =
            lines(spec, spec.depth, &spec.rows, walls, thickness.wall, slot)?;
        let layout = Self {
            thickness,
            width: spec.width.value,
            depth: spec.depth.value,
            slot,
            divider_height,
            lap: divider_height / 2.0,
            walls,
            column_lines,
            column_middles,
            row_lines,
            row_middles,
            fingers: fingers(spec.height.value, thickness.wall),
        };
        layout.check_cuts(spec)?;
        Ok(layout)
    }

    /// Hollows stay clear of slots and of the lower half, where the other slots are.
    fn check_cuts(&self, spec: &Spec) -> Result<(), Box<Finding>> {
        let Some(cuts) = &spec.cuts else {
            return Ok(());
        };
        let clear = |lines: &[f64], size: f64, middles: &[f64]| {
            let mut walls: Vec<f64> = lines.to_vec();
            walls.extend([self.walls, size - self.walls]);
            middles
                .iter()
                .flat_map(|middle| walls.iter().map(move |line| (middle - line).abs()))
                .fold(f64::INFINITY, f64::min)
        };
        let room = clear(&self.column_lines, self.width, &self.column_middles).min(clear(
            &self.row_lines,
            self.depth,
            &self.row_middles,
        ));
        let widest = 2.0 * (room - self.slot / 2.0 - LEAST_BETWEEN);
        if cuts.width.value > widest {
            return Err(Box::new(too_small(
                spec,
                cuts.width,
                &format!(
                    "a finger cut fits the narrowest compartment up to {}",
                    spec.unit.show(widest.max(0.0))
                ),
                "make it narrower",
            )));
        }
        let deepest = self.divider_height - LEAST_BETWEEN;
        if cuts.depth.value > deepest {
            return Err(Box::new(too_small(
                spec,
                cuts.depth,
                &format!(
                    "a finger cut may be up to {} deep here",
                    spec.unit.show(deepest)
                ),
                "make it less deep",
            )));
        }
        Ok(())
    }
}

fn too_small(spec: &Spec, at: Spanned<f64>, why: &str, fix: &str) -> Finding {
    let message = format!("{why}; this is {}", spec.unit.show(at.value));
    Finding::error(codes::BAD_TRAY, at.span, message).fix(fix)
}

/// The middles of the dividers, and of the compartments between them.
fn lines(
    spec: &Spec,
    outer: Spanned<f64>,
    Bays { count, sizes }: &Bays,
    walls: f64,
    divider: f64,
    slot: f64,
) -> Result<(Vec<f64>, Vec<f64>), Box<Finding>> {
    let inner = outer.value - 2.0 * walls;
    let dividers = f64::from(count - 1);
    let clear = inner - dividers * divider;
    let least = slot - divider + LEAST_BETWEEN;
    let given: Vec<f64> = if sizes.is_empty() {
        vec![clear / f64::from(*count); *count as usize]
    } else {
        let mut given: Vec<f64> = sizes.iter().map(|size| size.value).collect();
        given.push(clear - given.iter().sum::<f64>());
        given
    };
    if let Some(narrow) = given.iter().copied().find(|bay| *bay < least) {
        let at = sizes.last().copied().unwrap_or(outer);
        return Err(Box::new(too_small(
            spec,
            at,
            &format!(
                "of {} inside the walls a compartment would get {}",
                spec.unit.show(inner),
                spec.unit.show(narrow)
            ),
            "make the tray larger, or the compartments fewer or smaller",
        )));
    }
    let mut at = walls;
    let (mut lines, mut middles) = (Vec::new(), Vec::new());
    for bay in given {
        middles.push(at + bay / 2.0);
        at += bay + divider;
        lines.push(at - divider / 2.0);
    }
    lines.pop();
    Ok((lines, middles))
}

/// An odd number of fingers, about two thicknesses each and at least three, so that both ends of a corner look alike.
fn fingers(height: f64, thickness: f64) -> (usize, f64) {
    let wanted = height / (2.0 * thickness);
    let count = (2.0 * ((wanted - 1.0) / 2.0).round() + 1.0).clamp(3.0, 99.0);
    (count as usize, height / count)
}
