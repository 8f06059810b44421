//! What a program leaves of a sheet, as a picture.

use std::fmt::Write;

use crate::program::Program;
use crate::setup::Setup;
use crate::shape::{Polygon, point};
use crate::sweep::gone_at;

/// How many depths are told apart at most.
const MOST_DEPTHS: usize = 24;

/// Draws the sheet from above as SVG, a unit for a millimetre: the deeper, the darker; what is cut through is white.
/// Faults are not in it.
pub fn picture(program: &Program, setup: &Setup) -> String {
    let (width, height) = setup.size;
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.2}mm\" height=\"{height:.2}mm\" viewBox=\"0 0 {width:.2} {height:.2}\">\n\
         <rect width=\"{width:.2}\" height=\"{height:.2}\" fill=\"#e8cfa5\" stroke=\"#806030\" stroke-width=\"0.5\"/>\n"
    );
    let depths = depths(program);
    let deepest_first: Vec<f64> = depths.iter().rev().map(|depth| depth - 0.01).collect();
    let levels = gone_at(&program.motions, setup, &deepest_first);
    for (depth, region) in deepest_first.iter().zip(&levels).rev() {
        let fill = if *depth >= setup.thickness - 0.05 {
            "#ffffff".to_owned()
        } else {
            let share = (depth / setup.thickness).clamp(0.0, 1.0);
            let part = |light: f64, dark: f64| (light + (dark - light) * share).round() as u8;
            format!(
                "#{:02x}{:02x}{:02x}",
                part(214.0, 90.0),
                part(176.0, 58.0),
                part(122.0, 20.0)
            )
        };
        // Writing to a String cannot fail.
        let _ = writeln!(
            text,
            "<path d=\"{}\" fill=\"{fill}\" fill-rule=\"evenodd\" stroke=\"#403010\" stroke-width=\"0.15\"><title>{:.2} mm deep</title></path>",
            data(region, height),
            depth + 0.01
        );
    }
    text.push_str("</svg>\n");
    text
}

/// The depths at which the program cuts on the level, from the face down, thinned out where there are many.
fn depths(program: &Program) -> Vec<f64> {
    let mut depths: Vec<i64> = program
        .motions
        .iter()
        // A way down ends where a level one begins, or, where it is straight, at the bottom of a hole.
        .filter(|motion| {
            let level = (motion.from_z - motion.to_z).abs() < 1e-9;
            let straight = motion.length_in_plane() < 1e-9;
            !motion.rapid && motion.lowest() < 0.0 && (level || straight)
        })
        .map(|motion| (-motion.lowest() * 100.0).round() as i64)
        .collect();
    depths.sort_unstable();
    depths.dedup();
    let step = depths.len().div_ceil(MOST_DEPTHS).max(1);
    let last = depths.len().saturating_sub(1);
    let kept = depths
        .iter()
        .enumerate()
        .filter(|(n, _)| (last - n).is_multiple_of(step));
    kept.map(|(_, depth)| *depth as f64 / 100.0).collect()
}

fn data(region: &[Polygon], height: f64) -> String {
    let mut text = String::new();
    for polygon in region {
        for (n, node) in polygon.iter().enumerate() {
            let at = point(*node);
            let letter = if n == 0 { 'M' } else { 'L' };
            let _ = write!(text, "{letter}{:.3} {:.3}", at.x, height - at.y);
        }
        text.push('Z');
    }
    text
}
