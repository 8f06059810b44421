//! Templates one over the other on sheets, to be cut apart.

/// Free paper between two templates on a sheet, in millimetres: the line to cut along lies in its middle.
pub(super) const BETWEEN: f64 = 5.0;

/// Which of some templates go on which sheet: each on the first sheet that still has room for its height, so they stay
/// nearly in their order.
pub(super) fn sheets(heights: &[f64], room: f64) -> Vec<Vec<usize>> {
    let mut sheets: Vec<(f64, Vec<usize>)> = Vec::new();
    for (index, height) in heights.iter().enumerate() {
        let fits = |taken: f64| taken + BETWEEN + height <= room + 1e-6;
        match sheets.iter_mut().find(|(taken, _)| fits(*taken)) {
            Some((taken, on)) => {
                *taken += BETWEEN + height;
                on.push(index);
            }
            None => sheets.push((*height, vec![index])),
        }
    }
    sheets.into_iter().map(|(_, on)| on).collect()
}

#[cfg(test)]
mod tests {
    use super::sheets;

    #[test]
    fn what_has_room_shares_a_sheet() {
        assert_eq!(
            sheets(&[100.0, 150.0, 90.0, 80.0], 200.0),
            [vec![0, 2], vec![1], vec![3]]
        );
        assert!(sheets(&[], 200.0).is_empty());
        // One that is as high as the sheet has it for itself.
        assert_eq!(sheets(&[200.0, 10.0], 200.0), [vec![0], vec![1]]);
    }
}
