//! A single-stroke alphabet for engraving: each letter is a few straight strokes on a grid four wide and six high.

use jigless_model::geom::{Path, Point};

/// Between the left edges of two letters, in steps of the grid.
const ADVANCE: f64 = 6.0;
/// Height of a letter, in steps of the grid.
const HEIGHT: f64 = 6.0;

/// Strokes of a text whose base line begins at `at`, with letters of a height in millimetres. Small letters are written
/// as capitals; a character that the alphabet has not is a box.
pub(super) fn strokes(text: &str, at: Point, height: f64) -> Vec<Path> {
    let step = height / HEIGHT;
    let mut paths = Vec::new();
    for (index, letter) in text.chars().enumerate() {
        let start = at + Point::new(index as f64 * ADVANCE * step, 0.0);
        for stroke in glyph(letter.to_ascii_uppercase()).split_whitespace() {
            let points = stroke.as_bytes().chunks_exact(2).map(|pair| {
                let steps = |digit: u8| f64::from(digit - b'0') * step;
                start + Point::new(steps(pair[0]), steps(pair[1]))
            });
            paths.push(Path::of_points(points, false));
        }
    }
    paths
}

/// Whether the alphabet has every character of a text.
pub(super) fn knows(text: &str) -> bool {
    text.chars().all(|c| glyph(c.to_ascii_uppercase()) != BOX)
}

/// What stands for a character that the alphabet has not.
const BOX: &str = "0040460600";

/// Length of a text, in millimetres.
pub(super) fn length(text: &str, height: f64) -> f64 {
    let count = text.chars().count() as f64;
    ((count * ADVANCE) - 2.0).max(0.0) * height / HEIGHT
}

/// The strokes of a letter, a word each: x and y of its points, a digit each.
fn glyph(letter: char) -> &'static str {
    match letter {
        'A' => "002640 1333",
        'B' => "00063645443303 3342413000",
        'C' => "4536160501103041",
        'D' => "00062644422000",
        'E' => "40000646 0333",
        'F' => "000646 0333",
        'G' => "45361605011030414323",
        'H' => "0006 4046 0343",
        'I' => "1030 2026 1636",
        'J' => "4641301001",
        'K' => "0006 4602 1340",
        'L' => "060040",
        'M' => "0006234640",
        'N' => "00064046",
        'O' => "103041453616050110",
        'P' => "00063645443303",
        'Q' => "103041453616050110 2240",
        'R' => "00063645443303 2340",
        'S' => "453616050413334241301001",
        'T' => "0646 2620",
        'U' => "060110304146",
        'V' => "062046",
        'W' => "0610233046",
        'X' => "0046 0640",
        'Y' => "062346 2320",
        'Z' => "06460040",
        '0' => "103041453616050110 0145",
        '1' => "152620 1030",
        '2' => "05163645440040",
        '3' => "0516364544334241301001 2333",
        '4' => "30360242",
        '5' => "460603334241301001",
        '6' => "4536160501103041423303",
        '7' => "064610",
        '8' => "13040516364544331302011030414233",
        '9' => "0110304145361605041343",
        '-' => "1333",
        '+' => "1333 2422",
        '=' => "1232 1434",
        '_' => "0040",
        '.' => "2021",
        '/' => "0046",
        ' ' => "",
        _ => BOX,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::geom::Bounds;

    #[test]
    fn every_letter_stays_on_its_grid_and_differs_from_the_others() {
        let letters: Vec<char> = ('A'..='Z')
            .chain('0'..='9')
            .chain("-+=_./".chars())
            .collect();
        for (index, &letter) in letters.iter().enumerate() {
            let paths = strokes(&letter.to_string(), Point::default(), 6.0);
            assert!(!paths.is_empty(), "{letter}");
            for path in &paths {
                assert!(path.vertices.len() > 1, "{letter}");
                assert!(path.segments().all(|s| s.length() > 0.9), "{letter}");
                let bounds = path.bounds().unwrap();
                assert!(
                    Bounds::of_size(4.0, 6.0).contains_box(bounds, 1e-9),
                    "{letter}"
                );
            }
            assert!(
                letters[..index]
                    .iter()
                    .all(|&other| glyph(other) != glyph(letter)),
                "{letter}"
            );
        }
    }

    #[test]
    fn a_text_is_as_long_as_it_says() {
        let paths = strokes("AH", Point::new(10.0, 5.0), 3.0);
        let bounds = paths
            .iter()
            .filter_map(Path::bounds)
            .reduce(Bounds::union)
            .unwrap();
        assert_eq!(bounds.min, Point::new(10.0, 5.0));
        assert!((bounds.width() - length("AH", 3.0)).abs() < 1e-9);
        assert!((bounds.height() - 3.0).abs() < 1e-9);
    }
}
