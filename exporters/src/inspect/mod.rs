//! What a machine will see in a DXF or SVG file, whoever wrote it: read back without the code that writes, and judged.

mod dxf;
mod inspection;
mod judge;
mod on_machine;
mod report;
mod svg;

use jigless_model::units::Unit;

pub use inspection::{Entity, Inspection, InspectionFault};
pub use on_machine::{KnownMachine, judge_on};

/// The most pairs of segments, or of a contour and a point, that are looked at in one file.
const MOST_LOOKS: u64 = 1_000_000_000;

/// Reads a file by its content and judges it. Of a DXF that names no unit, `assumed` is taken, or what a text in it says
/// (`Units: inches`).
///
/// # Errors
/// Why it is neither DXF nor SVG that can be read.
pub fn inspect(bytes: &[u8], assumed: Option<Unit>) -> Result<Inspection, String> {
    let start = bytes
        .iter()
        .find(|byte| !byte.is_ascii_whitespace() && byte.is_ascii());
    let mut inspection = if start == Some(&b'<') {
        svg::read(bytes)?
    } else {
        dxf::read(bytes, assumed)?
    };
    check_size(&inspection)?;
    judge::judge(&mut inspection);
    Ok(inspection)
}

/// Refuses drawings that nobody could judge in good time: whether a contour crosses itself is looked for between all its
/// segments, and which contours lie in one another between all contours.
fn check_size(inspection: &Inspection) -> Result<(), String> {
    let paths = inspection.entities.iter().map(|entity| &entity.path);
    let lengths = paths.map(|path| path.vertices.len() as u64);
    let (crossings, points) = lengths.fold((0, 0), |(crossings, points), length| {
        (crossings + length * length, points + length)
    });
    let insides = inspection.entities.len() as u64 * points;
    if crossings.max(insides) > MOST_LOOKS {
        return Err(format!(
            "it has {} lines with {points} points, more than a drawing for a machine",
            inspection.entities.len()
        ));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::fmt::Write;

    use super::*;

    #[test]
    fn a_drawing_that_takes_too_long_to_judge_is_refused() {
        let mut data = String::from("M0 0");
        for n in 0..50_000 {
            let _ = write!(data, "L{n} {}", n % 7);
        }
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\" viewBox=\"0 0 9 9\"><path d=\"{data}Z\"/></svg>"
        );
        let refused = inspect(svg.as_bytes(), None).unwrap_err();
        assert!(refused.contains("50001 points"), "{refused}");
    }

    #[test]
    fn work_that_lies_too_far_away_is_reported() {
        let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"320mm\" height=\"200mm\" viewBox=\"0 0 320 200\">\
            <path d=\"M150 140L150 90L182.9 57.071e068A10 10 0 0 1 197 57L230 90L230 140A60.8 60.8 0 0 0 150 140Z\"/></svg>";
        let found = inspect(svg.as_bytes(), None).unwrap();
        assert!(
            found
                .faults
                .iter()
                .any(|fault| fault.code == "too-far-away")
        );
    }

    #[test]
    fn groups_that_lie_too_deep_are_refused() {
        for depth in [101, 20_000] {
            let svg = format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\">{}{}</svg>",
                "<g>".repeat(depth),
                "</g>".repeat(depth)
            );
            let refused = inspect(svg.as_bytes(), None).unwrap_err();
            assert!(refused.contains("deep"), "{refused}");
        }
    }

    #[test]
    fn the_list_of_faults_does_not_grow_with_the_file() {
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\">{}</svg>",
            "<use/>".repeat(100_000)
        );
        let found = inspect(svg.as_bytes(), None).unwrap();
        assert!(found.faults.len() < 20, "{}", found.faults.len());
    }
}
