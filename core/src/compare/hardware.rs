//! What changed in the list of hardware.

use jigless_model::hardware::{Fitting, count};
use jigless_model::units::Unit;
use jigless_model::workpiece::Workpiece;

/// A line for each kind and size of which another number is taken.
pub(super) fn hardware_changes(
    before: &[Workpiece],
    after: &[Workpiece],
    unit: Unit,
) -> Vec<String> {
    let (before, after) = (count(before), count(after));
    let number = |all: &[jigless_model::hardware::HardwareLine], fitting: &Fitting| {
        let mut lines = all.iter().filter(|line| line.fitting.same_as(fitting));
        lines.next().map_or(0, |line| line.fitting.count)
    };
    let gone = before
        .iter()
        .filter(|line| number(&after, &line.fitting) == 0);
    after
        .iter()
        .chain(gone)
        .map(|line| &line.fitting)
        .filter_map(|fitting| {
            let (was, is) = (number(&before, fitting), number(&after, fitting));
            (was != is).then(|| format!("{}: {was} to {is}", named(fitting, unit)))
        })
        .collect()
}

/// `screw 4, 45 mm`.
fn named(fitting: &Fitting, unit: Unit) -> String {
    let mut name = fitting.kind.name().to_owned();
    if let Some(gauge) = &fitting.gauge {
        name = format!("{name} {gauge}");
    }
    if let Some(length) = fitting.length {
        name = format!("{name}, {}", unit.show(length));
    }
    name
}
