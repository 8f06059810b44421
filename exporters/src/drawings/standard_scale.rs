//! The scale of a drawing, from the standard series.

/// 1 to this: 1:1, 1:2, 1:5 and their decades (ISO 5455, from memory).
const SERIES: [f64; 3] = [1.0, 2.0, 5.0];

/// The largest scale of the series at which something that is so large at 1:1 fits: what 1 stands to.
pub(super) fn reduction(needed: f64) -> f64 {
    let decades = (0..7).map(|power| 10_f64.powi(power));
    let all = decades.flat_map(|decade| SERIES.map(|one| one * decade));
    let mut fitting = all.filter(|reduction| *reduction >= needed - 1e-9);
    fitting.next().unwrap_or(1e7)
}

/// The largest scale of the series at which something fits that does not shrink evenly: what 1 stands to, and what was laid
/// out at it. Where it fits at none down to 1 to `most`, it is laid out at that one.
pub(super) fn first_that_fits<T>(
    most: f64,
    laid_out: impl Fn(f64) -> T,
    fits: impl Fn(&T) -> bool,
) -> (f64, T) {
    let mut one_to = reduction(1.0);
    loop {
        let found = laid_out(one_to);
        if fits(&found) || one_to >= most {
            return (one_to, found);
        }
        one_to = reduction(one_to * 1.01);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 5455 (from memory): 1:2, 1:5, 1:10, 1:20, 1:50 and decades.
    #[test]
    fn scales_are_those_of_the_series() {
        for (needed, scale) in [
            (0.2, 1.0),
            (1.01, 2.0),
            (2.0, 2.0),
            (2.1, 5.0),
            (6.0, 10.0),
            (11.0, 20.0),
            (21.0, 50.0),
        ] {
            assert!((reduction(needed) - scale).abs() < 1e-12, "{needed}");
        }
    }
}
