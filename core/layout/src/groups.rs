//! Parts that must come from one sheet, by number.

use jigless_model::workpiece::Workpiece;

/// The number of the group of each of some workpieces, if it is in one.
pub(crate) fn of(workpieces: &[Workpiece], numbers: &[usize]) -> Vec<Option<u32>> {
    let name = |&number: &usize| workpieces[number].part.grain_group.as_deref();
    let mut names: Vec<&str> = numbers.iter().filter_map(name).collect();
    names.sort_unstable();
    names.dedup();
    let place = |name: &str| names.binary_search(&name).ok().map(|place| place as u32);
    numbers
        .iter()
        .map(|number| name(number).and_then(place))
        .collect()
}
